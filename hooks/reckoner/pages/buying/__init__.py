"""Plans and baskets."""
