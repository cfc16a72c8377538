"""Every instrument there is. One file each; an entry here is all that a bag, a form and a test need."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from sim.instruments.anemometer import Anemometer
from sim.instruments.capacitance_meter import CapacitanceMeter
from sim.instruments.clamp_meter import ClampMeter
from sim.instruments.closing_force import ForceGauge
from sim.instruments.dial_gauge import DialGauge
from sim.instruments.earth_tester import EarthTester
from sim.instruments.feeler_gauge import FeelerGauge
from sim.instruments.instrument import Instrument
from sim.instruments.insulation_tester import InsulationTester
from sim.instruments.leakage_clamp import LeakageClamp
from sim.instruments.level import Level
from sim.instruments.light_meter import LightMeter
from sim.instruments.load_tester import LoadTester
from sim.instruments.look import Look
from sim.instruments.loop_tester import LoopTester
from sim.instruments.low_ohm_tester import LowOhmTester
from sim.instruments.multimeter import Multimeter, PocketMeter
from sim.instruments.oscilloscope import Oscilloscope
from sim.instruments.pulse_counter import PulseCounter
from sim.instruments.radio_level_reader import RadioLevelReader
from sim.instruments.residual_tester import ResidualTester
from sim.instruments.service_panel import ServicePanel
from sim.instruments.shorting_lead import ShortingLead
from sim.instruments.signal_margin import SignalMarginReader
from sim.instruments.spring_scale import SpringScale
from sim.instruments.stopwatch import Stopwatch
from sim.instruments.straight_edge import StraightEdge
from sim.instruments.tape import Tape
from sim.instruments.thermal_view import ThermalView
from sim.instruments.thermometer import Thermometer
from sim.instruments.torque_wrench import TorqueWrench
from sim.instruments.two_pole_tester import TwoPoleTester

SHELF: Final[tuple[Callable[[], Instrument], ...]] = (
    TwoPoleTester,
    Multimeter,
    PocketMeter,
    ClampMeter,
    LowOhmTester,
    InsulationTester,
    CapacitanceMeter,
    ResidualTester,
    EarthTester,
    LeakageClamp,
    LoadTester,
    ShortingLead,
    Oscilloscope,
    PulseCounter,
    ForceGauge,
    SpringScale,
    Stopwatch,
    Tape,
    Level,
    DialGauge,
    FeelerGauge,
    StraightEdge,
    TorqueWrench,
    Anemometer,
    LightMeter,
    Thermometer,
    ThermalView,
    LoopTester,
    RadioLevelReader,
    SignalMarginReader,
    ServicePanel,
    Look,
)
"""How each is made new; a bag makes one of each for itself."""
