"""Plans: what is needed, what the shelf has, the cheapest baskets of whole packs."""
