"""The worktable: a local page to design by hand and see it sewn."""
