"""The cheapest basket of a few sellers, proven by trying every set of them: many times faster than a solver.

With the sellers given, and who of them sends free, every pool is filled by itself. Where that does not reach what a
seller asks for, a lower bound may still show that no basket of those sellers is cheaper than one found: goods are made
cheaper by a rebate on their listed price, and the rebate on the sum asked for is added again (Lagrangian relaxation).
What is in doubt then goes to the solver, those sellers only.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import chain, combinations

from reckoner.calc.buying.basket_task import PACKS, WHOLE, PackOption, Task
from reckoner.calc.buying.programme import Model
from reckoner.calc.buying.terms import Terms
from reckoner.money import Minor

#: With more sellers there are too many sets of them.
MOST_SELLERS = 6
#: Quarters of a rebate that would make a seller's cheapest goods free, in the order in which they are tried.
QUARTERS = (4, 2, 3, 1)


class TooMany(Exception):
    """More sellers than are gone through here."""


@dataclass(frozen=True)
class _Offer:
    """One offer; ``cost`` is minor units times PACKS, and one for the pack, less a rebate."""

    choice: PackOption
    gives: int
    cost: int


#: How one pool is filled: packs of some offers.
_Fill = tuple[tuple[_Offer, int], ...]


@dataclass(frozen=True)
class _Set:
    """Some sellers, of which some send free.

    Attributes:
        rest: delivery of those that do not, in minor units times PACKS.
        asked: listed goods that each seller with a limit must have.
        bound: no basket of these costs less.
    """

    sellers: frozenset[str]
    rest: int
    asked: Mapping[str, int]
    bound: int


def search(task: Task, most_sellers: int | None = None) -> dict[str, int] | None:
    """Packs of a cheapest basket, of equal ones with the fewest packs; None where some pool cannot be filled.

    Raises:
        TooMany: sellers.
    """
    return _Search(task).cheapest(most_sellers)


class _Search:
    """What is known of one task."""

    def __init__(self, task: Task) -> None:
        offers = task.offers
        self.pools = {pool: parts for pool, parts in sorted(task.pools.items()) if parts}
        self.offers = {
            pool: [_Offer(c, min(c.gives, parts), c.price * PACKS + 1) for c in offers if c.pool == pool]
            for pool, parts in self.pools.items()
        }
        self.sold_by = {pool: frozenset(offer.choice.seller for offer in some) for pool, some in self.offers.items()}
        self.terms = {offer.seller: task.terms.get(offer.seller, Terms()) for offer in offers}
        self.known: dict[tuple[str, frozenset[str], tuple[tuple[str, int], ...]], tuple[int, _Fill]] = {}
        self.best: int | None = None
        self.packs: dict[str, int] = {}

    def cheapest(self, most_sellers: int | None) -> dict[str, int] | None:
        if len(self.terms) > MOST_SELLERS:
            raise TooMany
        doubtful = []
        for tried in sorted(self._sets(most_sellers), key=lambda tried: tried.bound):
            if self.best is not None and tried.bound >= self.best:
                break
            if not self._take(tried, self._fills(tried.sellers, {})):
                doubtful.append(tried)
        # Baskets that turn up on the way settle doubts about sets looked at before.
        for tried in [each for each in doubtful if not self._dearer(each)]:
            if not self._dearer(tried):
                self._solve(tried)
        return None if self.best is None else self.packs

    def _sets(self, most_sellers: int | None) -> Iterator[_Set]:
        """Every set of sellers that can fill all pools, and every choice of those that send free."""
        most = len(self.terms) if most_sellers is None else most_sellers
        for sellers in _subsets(sorted(self.terms), most):
            some = frozenset(sellers)
            if not all(some & sold_by for sold_by in self.sold_by.values()):
                continue
            goods = sum(cost for cost, _ in self._fills(some, {}))
            for free in _subsets([s for s in sellers if self.terms[s].free_from is not None], len(sellers)):
                rest = PACKS * sum(self.terms[s].delivery for s in sellers if s not in free)
                asked = {s: goods for s in sellers if (goods := self.terms[s].asked(s in free))}
                yield _Set(some, rest, asked, goods + rest)

    def _fills(self, sellers: frozenset[str], rebates: Mapping[str, int]) -> list[tuple[int, _Fill]]:
        """The cheapest way to fill each pool from some sellers, their goods cheaper by so much a listed unit."""
        return [self._fill(pool, sellers & sold_by, rebates) for pool, sold_by in self.sold_by.items()]

    def _fill(self, pool: str, sellers: frozenset[str], rebates: Mapping[str, int]) -> tuple[int, _Fill]:
        key = pool, sellers, tuple((s, rebate) for s, rebate in rebates.items() if s in sellers)
        if key not in self.known:
            some = [
                _Offer(
                    offer.choice, offer.gives, offer.cost - rebates.get(offer.choice.seller, 0) * offer.choice.listed
                )
                for offer in self.offers[pool]
                if offer.choice.seller in sellers
            ]
            self.known[key] = filled(some, self.pools[pool])
        return self.known[key]

    def _take(self, tried: _Set, fills: list[tuple[int, _Fill]]) -> bool:
        """Keep what was found if it has what is asked for; False where it has not."""
        bought = [(offer.choice, packs) for _, fill in fills for offer, packs in fill]
        listed = dict.fromkeys(tried.asked, 0)
        for choice, packs in bought:
            if choice.seller in listed:
                listed[choice.seller] += choice.listed * packs
        if any(listed[seller] < asked for seller, asked in tried.asked.items()):
            return False
        self._keep(tried, bought)
        return True

    def _keep(self, tried: _Set, bought: list[tuple[PackOption, int]]) -> None:
        """Remember a basket that is the cheapest so far."""
        cost = tried.rest + sum((choice.price * PACKS + 1) * packs for choice, packs in bought)
        if self.best is None or cost < self.best:
            self.best, self.packs = cost, {choice.id: packs for choice, packs in bought}

    def _dearer(self, tried: _Set) -> bool:
        """Whether some rebate proves that these sellers have no cheaper basket; a basket that turns up is kept."""
        if self.best is not None and tried.bound >= self.best:
            return True
        most = {seller: self._most(seller) for seller in tried.asked}
        for quarters in QUARTERS:
            for group in chain((tuple(most),), ((seller,) for seller in most if len(most) > 1)):
                rebates = {seller: most[seller] * quarters // 4 for seller in group}
                fills = self._fills(tried.sellers, rebates)
                back = sum(rebate * tried.asked[seller] for seller, rebate in rebates.items())
                if self.best is not None and tried.rest + sum(cost for cost, _ in fills) + back >= self.best:
                    return True
                self._take(tried, fills)
        return False

    def _solve(self, tried: _Set) -> None:
        """The cheapest basket of these sellers, all of them used."""
        choices = {c.id: c for some in self.offers.values() for o in some if (c := o.choice).seller in tried.sellers}
        terms = {seller: Terms(minimum=Minor(tried.asked.get(seller, 0))) for seller in tried.sellers}
        model = Model(Task(self.pools, tuple(choices.values()), terms), all_used=True)
        if model.solve():
            self._keep(tried, [(choices[i], packs) for i, packs in model.bought().items()])

    def _most(self, seller: str) -> int:
        """The rebate on a listed unit at which none of a seller's goods cost less than nothing."""
        theirs = (offer for some in self.offers.values() for offer in some if offer.choice.seller == seller)
        return min((offer.cost // offer.choice.listed for offer in theirs if offer.choice.listed), default=0)


def _subsets(names: list[str], most: int) -> Iterator[tuple[str, ...]]:
    return chain.from_iterable(combinations(names, size) for size in range(min(most, len(names)) + 1))


def filled(offers: list[_Offer], parts: int) -> tuple[int, _Fill]:
    """The cheapest packs that fill one pool, and their cost: depth first, the cheapest part first."""
    # Parts are at most WHOLE, so that two prices of a part differ by more than 1 / WHOLE**2, or not at all.
    order = sorted(offers, key=lambda offer: offer.cost * WHOLE**2 // offer.gives)
    best: tuple[int, _Fill] | None = None

    def go_on(at: int, rest: int, cost: int, chosen: _Fill) -> None:
        nonlocal best
        if rest <= 0:
            if best is None or cost < best[0]:
                best = cost, chosen
            return
        if at == len(order):
            return
        offer = order[at]
        for packs in range(-(-rest // offer.gives), -1, -1):
            left, paid = rest - packs * offer.gives, cost + packs * offer.cost
            following = order[min(at + 1, len(order) - 1)]
            least = paid - (-left * following.cost // following.gives) if left > 0 else paid
            # A pack less of the cheapest part only makes the bound dearer.
            if best is not None and left > 0 and least >= best[0]:
                return
            go_on(at + 1, left, paid, (*chosen, (offer, packs)) if packs else chosen)

    go_on(0, parts, 0, ())
    assert best is not None, "a pool that someone sells can be filled"
    return best
