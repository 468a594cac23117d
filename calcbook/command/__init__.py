"""The command ``calcbook`` and what it starts."""
