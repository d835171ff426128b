"""One solve: a Car in, every figure, finding and curve of it out."""
