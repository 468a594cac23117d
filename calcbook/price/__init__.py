"""From the takeoff to a price: quote, order sheet, the client's page."""
