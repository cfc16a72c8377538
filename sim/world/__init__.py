"""The one place that knows every part: clock, host, build, actions and the world."""
