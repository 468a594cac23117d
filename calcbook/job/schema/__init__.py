"""The sections of a job file: every field with its unit, meaning, limits, default and reason."""
