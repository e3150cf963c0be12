"""Operations that several recipes share: placement, pieces laid flat, grounds, closing seams, openings."""
