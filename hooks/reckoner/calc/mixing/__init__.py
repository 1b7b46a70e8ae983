"""Amounts: molar masses, conversion between jars, scaling, instruments, what is weighed and what it rolls up to."""
