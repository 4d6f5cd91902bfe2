package chassis

// MotionRow is one line of a measured table.
type MotionRow struct {
	Wheel, Shock float64 // mm from full extension
}

// MotionTable is wheel travel against shock stroke, both rising from row to
// row. MotionTableOf makes one.
type MotionTable struct{ rows []MotionRow }

// MotionTableOf checks a measured table: at least two rows, both columns
// rising, ratios between 0.05 and 2.
func MotionTableOf(wheel, shock []float64) (MotionTable, error) {
	if len(wheel) != len(shock) || len(wheel) < 2 || len(wheel) > 500 {
		return MotionTable{}, Refusal{"table", "The table needs as many shock readings as wheel readings, at least two of each.", "Measure both at each height, from full extension up."}
	}
	rows := make([]MotionRow, len(wheel))
	for i := range wheel {
		if err := within(limit{"wheel travel", wheel[i], -500, 500, "mm"}, limit{"shock stroke", shock[i], -500, 500, "mm"}); err != nil {
			return MotionTable{}, err
		}
		rows[i] = MotionRow{wheel[i], shock[i]}
		if i == 0 {
			continue
		}
		if dw, ds := wheel[i]-wheel[i-1], shock[i]-shock[i-1]; dw <= 0 || ds <= 0 || ds/dw < 0.05 || ds/dw > 2 {
			return MotionTable{}, Refusal{"table", "The shock does not move steadily with the wheel in this table.", "Sort the rows from full extension up, and measure the odd one again."}
		}
	}
	return MotionTable{rows}, nil
}

// Ratio returns spring travel over wheel travel at a wheel travel in mm: the
// slope of the table, by central differences between the midpoints of its
// steps, constant beyond the first and last midpoint.
func (t MotionTable) Ratio(wheel float64) float64 {
	slope := func(i int) (mid, ratio float64) {
		a, b := t.rows[i], t.rows[i+1]
		return (a.Wheel + b.Wheel) / 2, (b.Shock - a.Shock) / (b.Wheel - a.Wheel)
	}
	if len(t.rows) < 2 {
		return 1
	}
	at, ratio := slope(0)
	for i := 1; i+1 < len(t.rows); i++ {
		next, r := slope(i)
		if wheel <= at {
			return ratio
		}
		if wheel < next {
			return ratio + (r-ratio)*(wheel-at)/(next-at)
		}
		at, ratio = next, r
	}
	return ratio
}

// Shock returns the shock stroke at a wheel travel, straight between rows and
// held at the ends of the table.
func (t MotionTable) Shock(wheel float64) float64 {
	if len(t.rows) == 0 {
		return wheel
	}
	if wheel <= t.rows[0].Wheel {
		return t.rows[0].Shock
	}
	for i := 1; i < len(t.rows); i++ {
		a, b := t.rows[i-1], t.rows[i]
		if wheel <= b.Wheel {
			return a.Shock + (b.Shock-a.Shock)*(wheel-a.Wheel)/(b.Wheel-a.Wheel)
		}
	}
	return t.rows[len(t.rows)-1].Shock
}

// Rows returns a copy of the table.
func (t MotionTable) Rows() []MotionRow { return append([]MotionRow(nil), t.rows...) }

// Mean returns the ratio over the whole table.
func (t MotionTable) Mean() float64 {
	if len(t.rows) < 2 {
		return 1
	}
	a, b := t.rows[0], t.rows[len(t.rows)-1]
	return (b.Shock - a.Shock) / (b.Wheel - a.Wheel)
}
