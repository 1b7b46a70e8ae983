"""The ready-made side of "kit or own": a kit, a concentrate for some of the baths, a lab."""

from __future__ import annotations

from decimal import Decimal
from itertools import accumulate

from reckoner.calc.cupboard import Pack, Seller
from reckoner.calc.mixing_own import Figure, days_of
from reckoner.calc.scaling import LITRE
from reckoner.calc.sides import ZERO, Bath, Parts, Run, Side
from reckoner.records.catalogue import Catalogue
from reckoner.records.kit import Kit
from reckoner.rounding import up


def kit_side(kit: Kit, rest: Side | None, litres: Decimal, catalogue: Catalogue, figure: Figure) -> Side:
    """A kit for the simulation.

    Mixed whole, it does its rolls within its keeping time. Mixed in parts, a batch is mixed from it, and the rest keeps
    as the closed pack does.

    Args:
        rest: the baths that the owner still mixes; None where the kit replaces all.
        litres: of one batch.
    """
    assert kit.makes is not None and kit.does is not None
    makes = kit.makes.base / LITRE
    mixes = litres if kit.mixes_in_parts else makes
    does = kit.does.low if figure == "cautious" else kit.does.high
    bath = Bath(
        id=kit.id,
        does=does * mixes / makes,
        days=days_of(kit.mixed, figure),
        takes=((kit.id, mixes),),
        ready=True,
    )
    sealed = days_of(kit.sealed, figure)
    price = Decimal(catalogue.in_minor(kit.price))
    pack = Pack(kit.id, makes, price, seller=kit.id, opened=sealed, sealed=sealed, ready=True)
    seller = Seller(kit.id, charge=Decimal(catalogue.in_minor(kit.delivery)) if kit.delivery else ZERO)
    own = rest or Side((), {}, {})
    return Side((bath, *own.baths), {**own.packs, kit.id: pack}, {**own.sellers, kit.id: seller}, own.shelf)


def lab_run(kit: Kit, rolls: int, parcel: int, catalogue: Catalogue) -> Run:
    """A lab: the price for each roll, delivery for each parcel, paid with its first roll; nothing is poured away.

    Args:
        parcel: rolls that are sent together.
    """
    price = Decimal(catalogue.in_minor(kit.price))
    delivery = Decimal(catalogue.in_minor(kit.delivery)) if kit.delivery else ZERO
    each = [price + (delivery if (roll - 1) % parcel == 0 else ZERO) for roll in range(1, rolls + 1)]
    parcels = up(Decimal(rolls) / parcel)
    return Run(
        chemicals=(ZERO,) * rolls,
        ready=tuple(accumulate(each)),
        chemical_parts=Parts(),
        ready_parts=Parts(used=price * rolls, delivery=delivery * parcels),
        mixed={},
        thrown={},
        lost={},
        orders=parcels,
    )
