# The twenty rules: pairs of rule and cell that are not kept. Cell 0 stands for the whole.
package twenty

import rego.v1

fails contains [0, i] if { some i, cell in input.cells; cell.rest_voltage < 2.5 }
fails contains [1, i] if { some i, cell in input.cells; cell.rest_voltage > 4.25 }
fails contains [2, i] if { some i, cell in input.cells; cell.capacity < 1.5 }
fails contains [3, i] if { some i, cell in input.cells; cell.capacity < 0.8 * cell.rated_capacity }
fails contains [4, i] if { some i, cell in input.cells; cell.resistance > 0.12 }
fails contains [5, i] if { some i, cell in input.cells; not cell.wrap in ["intact", "rewrapped"] }
fails contains [6, i] if { some i, cell in input.cells; cell.body != "sound" }
fails contains [7, i] if { some i, cell in input.cells; cell.drift_fall / cell.drift_over > 0.001 / 24.0 }
fails contains [8, i] if { some i, cell in input.cells; cell.found_voltage < 2.0 }
fails contains [9, i] if { some i, cell in input.cells; cell.length > cell.bay_length }
fails contains [10, i] if { some i, cell in input.cells; cell.diameter > cell.bay_diameter }
fails contains [11, i] if { some i, cell in input.cells; cell.termination > cell.rated_full }
fails contains [12, 0] if input.charge_current / input.parallel > 1.0
fails contains [13, 0] if input.draw / input.parallel > 2.5
fails contains [14, 0] if input.cut_off < 3.0 * input.series
fails contains [15, 0] if { input.series * input.parallel > 1.0; not watched }
fails contains [16, 0] if {
	voltages := [cell.rest_voltage | some cell in input.cells]
	max(voltages) - min(voltages) > 0.05
}
fails contains [17, 0] if sum([cell.capacity | some cell in input.cells]) / input.series < input.draw * input.run_time
fails contains [18, 0] if input.charge_ambient < 5.0
fails contains [18, 0] if input.charge_ambient > 40.0
fails contains [19, 0] if not input.attended
fails contains [19, 0] if input.surface != "non-combustible"

watched if { input.protection == "pack"; input.each_cell }
