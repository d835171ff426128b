"""The stages of the job, each a function that writes its figures into the book."""
