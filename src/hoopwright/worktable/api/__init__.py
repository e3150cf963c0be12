"""What the page may ask the worktable: one router a screen, plain JSON."""
