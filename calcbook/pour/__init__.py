"""The pour and its nights: weather, heat, the day on a clock, the first week, go or no-go."""
