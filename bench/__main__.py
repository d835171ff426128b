"""Run every bench: ``python -m bench``."""

from __future__ import annotations

from bench import assessment, edit, kernel, people, recording

if __name__ == "__main__":
    kernel.main()
    print()
    assessment.main()
    print()
    edit.main()
    print()
    recording.main()
    print()
    people.main()
