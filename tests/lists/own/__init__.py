"""Lists of our own invention, in shapes that hobbyists give them, and what a patient keeper makes of each.

``python -m tests.lists.own.make`` makes the files and gold.json anew. What a list comes to is written by
hand beside its data: nothing here recognises anything.
"""
