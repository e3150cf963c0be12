"""What the engine says in English, said in the maker's language: see docs/translation.md."""
