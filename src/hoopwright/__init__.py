"""Hoopwright plans patchwork sewn in the hoop of an embroidery machine and checks it before the first stitch."""

__version__ = "0.1.0"
