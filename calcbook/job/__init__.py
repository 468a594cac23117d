"""The job file: its fields, reading and checking it, saving it."""
