"""What a `View` says of the yard round the gate: the weather, and who stands or walks there."""

from __future__ import annotations

from dataclasses import dataclass

from sim.mechanics import wind


@dataclass(frozen=True, slots=True)
class WeatherView:
    """The weather as one feels it."""

    wind_m_s: float = 0.0
    """At this instant, gusts and all."""
    mean_m_s: float = 0.0
    from_deg: float = 0.0
    """Where it comes from, on the plan: 0 from the inside (up), 90 from the right."""
    gust_intensity: float = 0.0
    """Deviation of the gusts as a share of the mean wind; 0 is a steady wind."""
    temperature_c: float = 15.0

    @property
    def beaufort(self) -> int:
        """Number of the mean wind on the Beaufort scale."""
        return wind.beaufort(self.mean_m_s)

    @property
    def words(self) -> str:
        """The mean wind in that scale's words."""
        return wind.beaufort_words(self.mean_m_s)

    @property
    def pressure_pa(self) -> float:
        """Velocity pressure of the mean wind [Pa]."""
        return wind.velocity_pressure(self.mean_m_s)


@dataclass(frozen=True, slots=True)
class BodyView:
    """A body standing or lying on the plan."""

    name: str
    x_m: float
    y_m: float
    size_m: tuple[float, float, float]
    """Along x, along y, height [m], as it stands when it isn't turned."""
    lying: bool
    turn_deg: float = 0.0
    """How far it is turned about its middle, from x towards y; 0 looks inside."""
    speed_m_s: float = 0.0
    ahead: tuple[tuple[float, float], ...] = ()
    """The points still ahead of it, while it is on its way."""
