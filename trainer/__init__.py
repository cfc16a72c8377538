"""The training yard round the simulator: jobs, sessions, grading, window and command line."""
