"""What pyproject.toml cannot say: packages that are found, beside folders without Python that get a package's name.

``hooks/reckoner/shipped.py`` finds the folders under these names.
"""

from setuptools import find_packages, setup

FOLDERS = {
    "handbook_library": "formulas/library",
    "handbook_schema": "hooks/schema",
    "handbook_theme": "hooks/theme",
}

setup(
    packages=[*find_packages("hooks", include=["reckoner*", "handbook_*"]), *FOLDERS],
    package_dir={"": "hooks", **FOLDERS},
)
