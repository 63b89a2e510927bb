"""Drawings as SVG text, in millimetres: black-and-white safe, labels that know their width.

faces
    Sockets and plugs from either side: `socket_face`.
run
    The whole rig from battery to farthest lamp and back: `run_drawing`.
ladder
    Where the volts of one load go: `drop_ladder`.
bands
    Expected readings beside measured ones: `band_bars`.
wires
    A conductor as in the hand: `wire_swatch`.
"""
