"""The chapters in their order, and what is listed over all of them: formulas, symbols, sources."""
