"""Findings: what to put right on a rig, gravest first, each with its reason and source."""
