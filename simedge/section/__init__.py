"""From words to shapes: the outline, what the work puts on it, and its triangles."""
