"""One function per user action: open files, do the work, return plain data."""
