"""Patchwork made by a rule with a seed, one rule a module. All of it can be sewn on one foundation."""
