"""Published rows that nothing is held against, and the reason."""

from __future__ import annotations

from outside.checks.record import Left

NO_RULE = "no rule uses it yet"
NO_WIND = "the model of a panel knows neither wind, mounting nor the colour of light"
INSIDE = "a value inside the library's algorithm; the engine sees only positions, which are checked"
OWN_AIR = "an input of the example that the engine takes from the height of the place instead"
TOLD = "the station file says a number, and the engine has no table of grounds"
BESIDE = "the same comparison is made figure by figure under the other topics"
FUSE_HEAT = "the model of a fuse says that it leaves out what warmth does to its rating"
OTHER_FUSE = "the model stands for a regular blade; a large one and a small one are other parts"

NO_MODE = "no mode of a radio is called so; a file gives `carrier` and half of the time"
NOT_READ = "a column of the list that no check needs"

LEFT: tuple[Left, ...] = (
    Left(
        "ampacity_ambient.csv",
        "air under 30 degC counts as 30 degC, which is on the safe side",
        (1, 2, 3, 4),
    ),
    Left("cable_trade_sizes.csv", NO_RULE),
    Left("voltage_drop.csv", NO_RULE, (3, 4, 6, 7)),
    Left("fuse_practice.csv", NO_RULE, (1, 3, 4)),
    Left("fuse_practice.csv", FUSE_HEAT, (6, 7, 8, 9, 10)),
    Left("fuse_practice.csv", OTHER_FUSE, (14, 16, 19)),
    Left("sun_table_a5_1.csv", OWN_AIR, (7, 8, 11)),
    Left("sun_table_a5_1.csv", INSIDE, (13, 14, 15, 17, 18, 19, 20, 21, 22, 23, 24, 26)),
    Left("panel_conditions.csv", NO_WIND, (3, 6, 7, 8, 11, 12, 13, 14, 15, 16)),
    Left("panel_de_soto_fit.csv", "the single-diode curve does not ask how many cells", (7,)),
    Left("panel_list_columns.csv", NOT_READ, (2, 6, 7, 8, 16, 17, 18, 19, 20, 21, 23, 24, 25)),
    Left("ground_reflection.csv", TOLD, (1, 3, 5, 7, 8, 9, 10, 11, 12, 13, 14)),
    Left(
        "lfp_half_cell.csv",
        "half cells are not modelled; their spread is the tolerance of lithium rest voltages",
    ),
    Left(
        "battery_facts.csv",
        "no model has a counterpart of this figure",
        (3, 6, 7, 11, 19),
    ),
    Left("mode_factors_requoted.csv", NO_MODE, (2,)),
    Left(
        "usb_power.csv",
        "outlets above 20 V and voltages in small steps are left out",
        (9, 10, 11, 12),
    ),
    Left("cross_checks.csv", BESIDE, (1, 2, 3, 4, 5, 6, 7, 11, 12)),
    Left(
        "cross_checks.csv",
        "about copies of a published table that differ from each other; ours is held against one",
        (8, 9, 10, 23),
    ),
    Left(
        "cross_checks.csv",
        "another reckoning of voltages that ours takes from the table it is compared with",
        (15, 16, 17),
    ),
)
