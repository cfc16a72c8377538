"""Faults as data: each changes one physical fact and returns its undo.

`edit` says what can be changed, `entry` what a fault tells of itself, `entries` holds them by family, `catalogue`
joins them. No part asks whether it is faulty: a fault changes a resistance, a friction, a place, a setting, and every
symptom follows from the network and the mechanics.
"""
