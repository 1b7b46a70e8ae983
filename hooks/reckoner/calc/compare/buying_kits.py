"""The ready-made side of "kit or own": a kit, a concentrate for some of the baths, a lab."""

from __future__ import annotations

from decimal import Decimal
from itertools import accumulate, cycle, islice

from reckoner.calc.buying.terms import NO_CHARGE, Terms
from reckoner.calc.compare.cupboard import Pack
from reckoner.calc.compare.simulated_side import Run, Side, SpendingSplit
from reckoner.calc.film.days import Figure, days_of
from reckoner.calc.film.mixed_bath import Bath
from reckoner.calc.film.whole_films import Piece, tankful
from reckoner.money import NO_MONEY, ExactMinor
from reckoner.records.catalogue import Catalogue
from reckoner.records.kit import Kit
from reckoner.rounding import up
from reckoner.units import Litres, Rolls, RollsPerLitre


def kit_side(
    kit: Kit, rest: Side | None, litres: Litres, films: tuple[Piece, ...], catalogue: Catalogue, figure: Figure
) -> Side:
    """A kit for the simulation.

    Mixed whole, it does its rolls within its keeping time. Mixed in parts, a batch is mixed from it, and the rest keeps
    as the closed pack does.

    Args:
        rest: the baths that the owner still mixes; None where the kit replaces all.
        litres: of one batch.
        films: in the order in which they come, over and over.
    """
    assert kit.makes is not None and kit.does is not None
    makes = kit.makes.litres
    mixes = litres if kit.mixes_in_parts else makes
    does = kit.does.low if figure == "cautious" else kit.does.high
    each = RollsPerLitre(does / makes)
    tanks = catalogue.settings.tanks
    bath = Bath(
        id=kit.id,
        does=Rolls(does * mixes / makes),
        days=days_of(kit.mixed, figure),
        takes=((kit.id, mixes),),
        ready=True,
        tankfuls={piece.format: tankful(piece, each, False, mixes, tanks) for piece in dict.fromkeys(films)},
    )
    sealed = days_of(kit.sealed, figure)
    price = catalogue.own_money(kit.price).exact_minor
    pack = Pack(kit.id, makes, price, seller=kit.id, opened=sealed, sealed=sealed, ready=True)
    terms = Terms(catalogue.own_money(kit.delivery).minor if kit.delivery else NO_CHARGE)
    own = rest or Side((), {}, {})
    return Side((bath, *own.baths), {**own.packs, kit.id: pack}, {**own.sellers, kit.id: terms}, own.shelf, films)


def lab_run(kit: Kit, films: tuple[Piece, ...], count: int, parcel: int, catalogue: Catalogue) -> Run:
    """A lab: the price for each roll, delivery for each parcel, paid with its first film; nothing is poured away.

    Args:
        films: in the order in which they come, over and over; a film pays for the rolls that it counts as.
        parcel: films that are sent together.
    """
    price = catalogue.own_money(kit.price).exact_minor
    delivery = catalogue.own_money(kit.delivery).exact_minor if kit.delivery else NO_MONEY
    developed = [ExactMinor(price * piece.rolls) for piece in islice(cycle(films), count)]
    each = [ExactMinor(price + (delivery if at % parcel == 0 else NO_MONEY)) for at, price in enumerate(developed)]
    parcels = up(Decimal(count) / parcel)
    return Run(
        chemicals=(NO_MONEY,) * count,
        ready=tuple(accumulate(each)),
        chemical_parts=SpendingSplit(),
        ready_parts=SpendingSplit(used=sum(developed, NO_MONEY), delivery=ExactMinor(delivery * parcels)),
        mixed={},
        thrown={},
        lost={},
        orders=parcels,
    )
