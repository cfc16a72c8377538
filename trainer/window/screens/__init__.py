"""The screens: front desk, work, debrief, and the calm panel for when a screen fails."""
