"""Describing a rig by questions: what is asked, what was said, what is taken where nothing was.

A question stands for one value of the job file, by its path. Its answer is what the file says
there, the default taken if it says nothing, and what is to mend. Nothing here reads or writes the
store, and nothing judges wiring: every value is judged by the readers of the job file.
"""
