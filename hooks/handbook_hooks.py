"""The handbook's plugin as a hook file, for a clone: nothing needs to be installed for MkDocs to find it."""

from handbook_plugin.plugin import HandbookPlugin

_plugin = HandbookPlugin()
# All events of the plugin, as MkDocs itself gathers them; no other name here may begin so.
globals().update({name: getattr(_plugin, name) for name in dir(_plugin) if name.startswith("on_")})
