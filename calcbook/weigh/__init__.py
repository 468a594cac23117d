"""One job weighed against others: odds on its price, other choices, ranges of a field, two versions."""
