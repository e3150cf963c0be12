"""Pictures drawn once as a list of shapes and replayed to SVG and PNG."""
