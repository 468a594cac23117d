"""What was measured on a pour, set against what the book promised; what own jobs say, used only when wanted."""
