"""Free-standing accents: motifs of thread alone that hold together when the base they were sewn on is gone."""
