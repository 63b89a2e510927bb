"""Short words for a function, as they stand beside a pin or a conductor."""

from __future__ import annotations

SHORT_WORDS = {
    "left_stop_turn": "left stop + turn",
    "right_stop_turn": "right stop + turn",
    "ground_battery": "return of battery",
    "ground_ignition": "return of ignition",
    "ground_data": "return of data",
    "ground_control": "control by grounding",
    "tail_left": "left tail",
    "tail_right": "right tail",
    "abs_aux": "antilock supply",
    "aux": "auxiliary",
    "aux2": "second auxiliary",
    "worklight": "work lamps",
    "trailer_brake_control": "endurance brake",
    "brake_wear": "lining wear",
    "spring_brake_sensor": "spring brake sensor",
    "can_h": "data line high",
    "can_l": "data line low",
    "ebs_valve_plus": "valves plus",
    "ebs_valve_minus": "valves minus",
    "ebs_electronics_plus": "electronics plus",
    "ebs_electronics_minus": "electronics minus",
    "ebs_warning_lamp": "warning lamp",
}


def function_words(function: str) -> str:
    """Return words short enough for a label; `ground` is the trade's word for the return."""
    return SHORT_WORDS.get(function, function.replace("_", " "))
