"""The window: screens drawn from a `View`, everything else asked of the session. The only room that knows pygame."""
