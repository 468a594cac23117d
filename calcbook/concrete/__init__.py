"""The concrete: how much, by which trucks, of which mix, how it sets and gains strength, and who places it."""
