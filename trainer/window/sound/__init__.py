"""What can be heard at the gate: told from two looks, written as captions, made into sound where there is a card."""
