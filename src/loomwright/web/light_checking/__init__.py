"""The light check on one or two devices: what is sent, what it says, what the screens show.

Import the part you need; this package imports none of them by itself.

sending
    Keeps what a device sends and lets the others know.
giving
    What a device sends, read into answers.
judging
    What an answer says, the vehicle's own ways included.
step_view, summary_view
    What the screens show.
"""
