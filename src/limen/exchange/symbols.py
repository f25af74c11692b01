"""The SI unit of each dimension, as other programs write it."""

from collections.abc import Mapping

from limen.quantity import Dimension

SI: Mapping[Dimension, str] = {
    Dimension.LENGTH: "m",
    Dimension.ANGLE: "rad",
    Dimension.TIME: "s",
    Dimension.SPEED: "m/s",
    Dimension.ACCELERATION: "m/s2",
    Dimension.MASS: "kg",
    Dimension.FORCE: "N",
    Dimension.ENERGY: "J",
    Dimension.VOLTAGE: "V",
    Dimension.CURRENT: "A",
    Dimension.FREQUENCY: "Hz",
    Dimension.RATIO: "1",
    Dimension.RESISTANCE: "ohm",
    Dimension.TEMPERATURE: "K",
    Dimension.POWER: "W",
    Dimension.AREA: "m2",
    Dimension.CALENDAR: "month",
}
