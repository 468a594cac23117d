"""Units, checked formulas, sources, tables and the calculation: what every chapter is written with."""
