// Every figure of the library, a row each: its name, kind, the facts it may look at, what happens to it
// when more cells join, how it is worked out, and its meaning. `table.rs` beside it makes the table of
// it; the build script takes the names and kinds, for which it needs none of the rest.
figures_of_the_library! {
    // --- of the build
    "build.current", Current, LOAD, Apart, of_build::current,
        "Highest current the light takes from the battery: `draw`, or its power over the lowest voltage it still runs at (the higher of `cut_off` and `input.min`)";
    "build.nominal_voltage", Voltage, set(&[Series, Class]), Widens, of_build::nominal_voltage,
        "Nominal voltage of the battery by the class of its cells";
    "build.energy", Energy, set(&[Class, RatedCapacity]), Rises, of_build::energy,
        "Rated energy of all cells together, as transport limits count it: rated capacity by nominal voltage";
    "build.run_time", Time, FULL, Unknown, of_build::run_time,
        "Time the light runs after a full charge: until the battery falls to where the light stops, or to where cells are empty, whichever is higher";
    "build.time_left", Time, NOW, Unknown, of_build::time_left,
        "The same from the charge that the rest voltages show";
    "build.time_left_counted", Time, COUNTED, Unknown, of_build::time_left_counted,
        "The same by counting: what is left of a full charge after `run_since_full`, and after a day of standing by and of loss";
    "build.weakest_voltage", Voltage, FULL, Unknown, of_build::weakest_voltage,
        "Loaded voltage of the weakest cell or group at the moment the light stops, after a full charge; below 0 V it is driven into reversal";
    "build.most_power", Power, LOAD.with(JOINED).with(set(&[Series, Class, Ambient])), Unknown, of_build::most_power,
        "Greatest power the battery can give at all near its end: V²/4R, with R after minutes of load at the temperature of use";
    "build.collapse_voltage", Voltage, LOAD.with(JOINED).with(set(&[Series, Class, Ambient])), Unknown, of_build::collapse_voltage,
        "Loaded voltage under which the battery cannot keep up the light's power: the square root of P·R; 0 V where the draw is a current";
    "build.charge_time", Time, set(&[ChargeCurrent, Capacity, CellGroup]), Rises, of_build::charge_time,
        "Estimate of the time a full charge takes: constant current, then constant voltage";
    "build.stop_at_rest", Voltage, set(&[Class, Series]), Unknown, of_build::stop_at_rest,
        "Stop plan: rest voltage of the battery at which to stop and recharge";
    "build.stop_loaded", Voltage, FULL, Unknown, of_build::stop_loaded,
        "Stop plan: loaded voltage of the battery at which to stop and recharge";
    "build.check_after", Time, FULL, Unknown, of_build::check_after,
        "Stop plan: longest run after a full charge before the voltage is checked, and between checks";
    // --- of a group
    "group.start_voltage", Voltage, FULL, WithContainer, of_group::start_voltage,
        "Loaded voltage of each cell when the light is switched on after a full charge";
    "group.mid_voltage", Voltage, FULL, WithContainer, of_group::mid_voltage,
        "Loaded voltage of each cell when half of what it gives has been given";
    "group.late_voltage", Voltage, FULL, WithContainer, of_group::late_voltage,
        "Loaded voltage of each cell when nine tenths of what it gives have been given";
    "group.delivered", Charge, FULL, WithContainer, of_group::delivered,
        "Charge the group gives after a full charge until its share of the voltage at which the light stops, or until empty";
    "group.end_voltage", Voltage, FULL, Unknown, of_group::end_voltage,
        "Loaded voltage of each cell at the moment the whole battery has fallen to where the light stops, after a full charge";
    "group.voltage_now", Voltage, NOW, WithContainer, of_group::voltage_now,
        "Loaded voltage of each cell when the light is switched on at the present charge";
    "group.charge_left", Charge, NOW, WithContainer, of_group::charge_left,
        "Charge the group gives from its present charge";
    "group.end_voltage_now", Voltage, NOW, Unknown, of_group::end_voltage_now,
        "Loaded voltage of each cell when the light stops, from the present charge";
    "group.inrush", Current, JOINED.with(set(&[RestVoltage])), WithContainer, of_group::inrush,
        "Highest current through any cell in the moment the group is joined, at the measured rest voltages and the lowest credible resistance";
    // --- of a cell
    "cell.charge_state", Ratio, REST, Apart, of_cell::charge_state,
        "Share of the charge that the rest voltage shows, by the open-circuit curves of the class; below 0 % or above 100 % where they are drawn on";
    "cell.dc_resistance", Kind::Resistance, RESISTANCE, Apart, of_cell::dc_resistance,
        "10-second direct-current resistance at 25 degC, by what every reading of it allows";
    "cell.capacity_ratio", Ratio, MODEL, Apart, of_cell::capacity_ratio,
        "Charge by the ordinary capacity test over that by the slow one, both freed of the sag of their currents; under 0.95 the cell gives less the faster it is used";
    "cell.current", Current, LOAD.with(SHARES).with(set(&[Parallel])), WithContainer, of_cell::current,
        "Highest current through the cell: its share of the battery's by the resistances in its group";
    "cell.rate", Rate, LOAD.with(SHARES).with(set(&[Capacity, Parallel])), WithContainer, of_cell::rate,
        "Highest current through the cell for its measured capacity";
    "cell.heat", Power, LOAD.with(SHARES).with(set(&[Ambient, Parallel])), WithContainer, of_cell::heat,
        "Heat in the cell at its highest current, at the temperature of use";
    "cell.kelvin_heat", Energy, SIZE, Apart, of_cell::kelvin_heat,
        "Heat that warms the bare cell by one kelvin, by the mass of its size and class";
    "cell.most_capacity", Charge, SIZE, Apart, of_cell::most_capacity,
        "Most charge that a genuine cell of the size and class gives";
    "cell.new_resistance", Kind::Resistance, SIZE, Apart, of_cell::new_resistance,
        "Most that a new cell of the size and class reads at 1 kHz";
    "cell.energy", Energy, set(&[Class, RatedCapacity]), Apart, of_cell::energy,
        "Rated energy, as transport limits count it: rated capacity by nominal voltage";
    "cell.fall", Voltage, FALL, Apart, of_cell::fall,
        "Fall of the rest voltage during the watch: as noted, or the first reading less the second, in which what both readings share of one meter's error cancels";
    "cell.loss_in_30_days", Ratio, DRIFT, Apart, of_cell::loss,
        "Share of the charge that drifts away in 30 days, by the class's curve between the two readings of the watch";
    "cell.keeps_for", Time, DRAINED, Apart, of_cell::keeps_for,
        "Time until the light's standby drain has emptied the cell, from the voltage at which it is stored; in parallel one cell may bear all of it";
    "cell.label_capacity", Charge, LABEL.with(set(&[CellPack, PackId])), Apart, of_pack::label_capacity,
        "Capacity of one cell by the label of the pack it came out of";
    // --- of a pack
    "pack.series", Count, LABEL, Apart, of_pack::series,
        "Cells in series, by the label";
    "pack.parallel", Count, LABEL, Apart, of_pack::parallel,
        "Cells in parallel, by the label and its code or the cells counted";
    "pack.cell_capacity", Charge, LABEL, Apart, of_pack::cell_capacity,
        "Capacity of one cell, by the label";
    "pack.cell_voltage", Voltage, LABEL, Apart, of_pack::cell_voltage,
        "Nominal voltage of one cell, by the label";
}
