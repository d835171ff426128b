"""Generic, invented-but-typical parts as data, and how a part is read and checked."""
