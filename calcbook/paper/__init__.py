"""What shows the book: pages of the notebooks, their panels, and the printout."""
