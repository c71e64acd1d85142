"""The table of the sun, against figures worked out by hand."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

import numpy as np
import pytest
from support.runs import station_from_file, station_from_text
from support.small_station import LAMP, LAMP_LEAD, PANEL, small_text

from copperpath.site import make_site
from copperpath.station import ClearSky
from copperpath.study.sun_days import OWN, typical_days
from copperpath.study.sun_yield import NoTable, PanelYield, SunTable, sun_table

FED = PANEL + LAMP + LAMP_LEAD
BRIGHT_DAY = date(2026, 6, 20)
SITE = (
    """station "Lamp of a laboratory" {
    place 47.4 N, 9.35 E, 400 m
    starts 2026-06-20 00:00 +02:00
    lasts 24 h
    sky "bright.csv"
    air 25 degC .. 25 degC
}
storage pack : lfp { capacity 20 Ah; temperature 25 degC }
cable pack -> lamp { length 1 m; wire 1.5 mm2; fuse 3 A at pack }
"""
    + LAMP
)
# The cells stay as warm as the air, so that the label's figures hold as they stand.
LABEL = (
    "source panel : photovoltaic { power 60 W; vmp 17.6 V; voc 21.4 V; isc 3.75 A; mount flat; "
    "nominal_cell_temperature 20 degC }\n"
)
ROWS = "time,plane [W/m2]\n" + "".join(
    f"2026-06-20T{hour:02d}:00:00+02:00,1000\n" for hour in range(24)
)


def laboratory(rest: str, folder: Path) -> PanelYield:
    """A panel in 1000 W/m² around the clock, its yield on that day."""
    (folder / "bright.csv").write_text(ROWS, encoding="utf-8")
    file = folder / "laboratory.station"
    file.write_text(SITE + LABEL + rest, encoding="utf-8")
    return sun_table(station_from_file(file), BRIGHT_DAY).panels[0]


def of_text(text: str, day: date | None = None) -> SunTable:
    """The table of a text."""
    return sun_table(station_from_text(text), day)


def test_a_tracking_controller_gives_best_power_times_efficiency_over_volts(
    tmp_path: Path,
) -> None:
    rest = (
        "converter regulator : mppt_charger { output_limit 10 A; max_input 30 V; "
        "efficiency 95 % }\n"
        "cable panel -> regulator.panel { length 3 m; wire 2.5 mm2 }\n"
        "cable regulator.battery -> pack { length 2 m; wire 2.5 mm2; fuse 10 A at pack }\n"
    )
    found = laboratory(rest, tmp_path).amps[OWN][0]
    # Copper at 20 degC has 0.0172 ohm mm²/m; out and back. A fuse takes a few milliohms more.
    to_controller, to_battery = 2 * 3 * 0.0172 / 2.5, 2 * 2 * 0.0172 / 2.5
    imp = 60.0 / 17.6
    watts = 0.95 * (60.0 - imp**2 * to_controller)
    rests = 13.25
    # I (V + I R) = W
    amps = (math.sqrt(rests**2 + 4 * to_battery * watts) - rests) / (2 * to_battery)
    assert found == pytest.approx(np.full(24, amps), rel=0.01)


def test_a_plain_controller_passes_on_the_panel_s_current(tmp_path: Path) -> None:
    rest = (
        "converter regulator : pwm_charger { output_limit 10 A; max_input 30 V }\n"
        "cable panel -> regulator.panel { length 3 m; wire 2.5 mm2 }\n"
        "cable regulator.battery -> pack { length 2 m; wire 2.5 mm2; fuse 10 A at pack }\n"
    )
    found = laboratory(rest, tmp_path).amps[OWN][0]
    # Well below the voltage of the best power a panel gives nearly its short-circuit current.
    assert np.all((found > 60.0 / 17.6) & (found < 3.75))


def test_a_panel_straight_on_the_battery_gives_its_own_current(tmp_path: Path) -> None:
    rest = "cable panel -> pack { length 2 m; wire 2.5 mm2; fuse 10 A at pack }\n"
    found = laboratory(rest, tmp_path).amps[OWN][0]
    assert np.all((found > 60.0 / 17.6) & (found < 3.75))


def test_no_controller_gives_more_than_its_limit(tmp_path: Path) -> None:
    rest = (
        "converter regulator : mppt_charger { output_limit 2 A; max_input 30 V }\n"
        "cable panel -> regulator.panel { length 3 m; wire 2.5 mm2 }\n"
        "cable regulator.battery -> pack { length 2 m; wire 2.5 mm2; fuse 10 A at pack }\n"
    )
    assert laboratory(rest, tmp_path).amps[OWN][0] == pytest.approx(np.full(24, 2.0), abs=0.01)


def test_the_sun_hours_of_a_day_at_a_kilowatt_are_its_hours(tmp_path: Path) -> None:
    hours = laboratory(PANEL.split("\n", 3)[3], tmp_path).sun_hours
    assert hours is not None
    assert hours[OWN][0] == pytest.approx(24.0)


def test_loads_change_nothing() -> None:
    heavier = FED.replace("current 0.5 A", "current 2.5 A")
    one, other = of_text(small_text(FED)), of_text(small_text(heavier))
    assert np.array_equal(one.panels[0].amps["clear"], other.panels[0].amps["clear"])


def test_two_equal_panels_with_controllers_of_their_own_stand_together() -> None:
    second = PANEL.replace("panel :", "other :").replace("regulator", "second")
    second = second.replace("cable panel", "cable other")
    panels = of_text(small_text(FED + second)).panels
    assert [panel.names for panel in panels] == [("panel", "other"), ("all together",)]


def test_two_panels_with_controllers_of_their_own_add_up() -> None:
    second = PANEL.replace("panel :", "other :").replace("regulator", "second")
    second = second.replace("cable panel", "cable other")
    each, both = of_text(small_text(FED + second)).panels
    assert both.amps["clear"] == pytest.approx(2.0 * each.amps["clear"], rel=1e-3, abs=1e-6)


def test_sun_hours_are_the_light_of_the_day_on_the_plane() -> None:
    station = station_from_text(small_text(FED))
    found = sun_table(station, BRIGHT_DAY).panels[0].sun_hours
    midnight = datetime(2026, 6, 20, tzinfo=station.site.starts.tzinfo)
    clear = replace(station.site, starts=midnight, lasts_s=86_400.0, sky=ClearSky(1.0, {}))
    minutes = make_site(clear, 60.0).plane_irradiance(station.device("panel").values["mount"])
    assert found is not None
    assert found["clear"][0] == pytest.approx(minutes.sum() * 60.0 / 3.6e6, rel=2e-3)


def test_an_overcast_day_gives_about_a_quarter_of_a_clear_one() -> None:
    panel = of_text(small_text(FED), BRIGHT_DAY).panels[0]
    assert panel.sun_hours is not None
    ratio = panel.sun_hours["overcast"][0] / panel.sun_hours["clear"][0]
    assert ratio == pytest.approx(0.25)


def test_nothing_is_given_by_night() -> None:
    amps = of_text(small_text(FED)).panels[0].amps["clear"]
    # 64 degrees north: in December the sun is up from about 10 to 14 of this clock.
    assert np.all(amps[11, :8] == 0.0)
    assert np.all(amps[11, 17:] == 0.0)


def test_a_year_has_a_typical_day_in_each_month() -> None:
    days = typical_days(2026)
    assert [day.month for day in days] == list(range(1, 13))
    # Klein 1977, table 1: day of the year 17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344.
    numbers = [day.timetuple().tm_yday for day in days]
    assert numbers == [17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344]


def test_a_clear_file_has_no_third_column() -> None:
    assert of_text(small_text(FED)).skies == ("clear", "overcast")


def test_a_share_of_the_file_is_a_third_column() -> None:
    panel = of_text(small_text(FED, sky="50 % of clear"), BRIGHT_DAY).panels[0]
    assert panel.sun_hours is not None
    assert panel.sun_hours[OWN][0] == pytest.approx(0.5 * panel.sun_hours["clear"][0])


def test_a_dated_sky_counts_in_its_month_by_its_days() -> None:
    sky = "clear\n    sky 0 % of clear on 2026-06-19"
    panel = of_text(small_text(FED, sky=sky)).panels[0]
    assert panel.sun_hours is not None
    assert panel.sun_hours[OWN][5] == pytest.approx(29 / 30 * panel.sun_hours["clear"][5])


def test_a_measured_sky_that_ends_too_early_is_left_out_and_said_so(tmp_path: Path) -> None:
    (tmp_path / "bright.csv").write_text(ROWS, encoding="utf-8")
    file = tmp_path / "laboratory.station"
    file.write_text(SITE + LABEL + PANEL.split("\n", 3)[3], encoding="utf-8")
    table = sun_table(station_from_file(file))
    assert OWN not in table.skies
    assert "--day" in table.own_missing


def test_a_station_without_a_panel_has_no_table() -> None:
    with pytest.raises(NoTable, match="no panel"):
        of_text(small_text())


def test_a_panel_that_leads_to_no_battery_gives_nothing() -> None:
    lamp = "load other : steady { current 0.5 A; works 9 V .. 15 V }\n"
    lead = "cable panel -> other { length 1 m; wire 1.5 mm2 }\n"
    table = of_text(small_text(LAMP + LAMP_LEAD + LABEL + lamp + lead))
    assert np.all(table.panels[0].amps["clear"] == 0.0)
