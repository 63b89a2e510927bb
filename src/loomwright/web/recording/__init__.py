"""The record of work, question by question: what is asked, what was sent, what is shown.

Import the part you need; this package imports none of them by itself.
"""
