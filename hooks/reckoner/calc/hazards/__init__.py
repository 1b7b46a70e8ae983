"""Indicative classification of a mixed bath from its ingredients, by the mixture rules of CLP (GHS parts 3 and 4).

Regulation (EC) No 1272/2008, Annex I. Physical hazards are not computed. The supplier's sheet and a measured pH come
first: the rules count ingredients that neutralise one another, and know nothing of a used bath.
"""
