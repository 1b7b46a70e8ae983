"""Film through baths: areas, capacity, times, temperatures, schedules, tanks and bottles."""
