"""The sheet room: gauges, thicknesses, what each gauge system is for."""
