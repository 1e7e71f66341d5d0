"""How the guides are rendered and written, and the MkDocs plugin that is the entrance."""
