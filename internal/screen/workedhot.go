package screen

import (
	"fmt"
	"math"

	"plumbline/internal/book"
	"plumbline/internal/chassis"
	"plumbline/internal/laps"
	"plumbline/internal/unit"
)

// WorkedHot is one tyre's pressures at a track: what it was set to cold, what
// it reached, and the cold pressure that should give the hot one wanted.
type WorkedHot struct {
	Tyre   string     `json:"tyre"`   // "Front tyre"
	Field  string     `json:"field"`  // "front"
	Wanted string     `json:"wanted"` // in the book's unit
	Says   string     `json:"says"`
	Rows   [][]string `json:"rows"` // day, cold, hot, air, felt
}

// pressures learns from the runs at the track that have both readings. The hot
// value wanted is the rider's, or else the middle of those runs that felt
// better, or of all.
func (e evidence) pressures(args WorkedArgs) []WorkedHot {
	return []WorkedHot{
		e.hot("Front tyre", "front", args.Front, args.Air, func(n book.SessionBody) (cold, hot *unit.Fixed) { return n.ColdFront, n.Front }),
		e.hot("Rear tyre", "rear", args.Rear, args.Air, func(n book.SessionBody) (cold, hot *unit.Fixed) { return n.ColdRear, n.Rear }),
	}
}

// usualAir is taken where a session does not say how warm the air was; common
// practice, no source.
const usualAir = 20.0

func (e evidence) hot(name, field string, wanted, air *unit.Fixed, read func(book.SessionBody) (cold, hot *unit.Fixed)) WorkedHot {
	s := shower{e.a.Book}
	out := WorkedHot{Tyre: name, Field: field, Rows: [][]string{}}
	var pairs []chassis.HotPair
	var all, good []float64
	today := usualAir
	for _, r := range e.runs {
		cold, hot := read(r.Body)
		if cold == nil || hot == nil || *hot <= *cold {
			continue
		}
		p := chassis.HotPair{Cold: cold.Float(), Hot: hot.Float(), Temperature: usualAir}
		degrees := "not said"
		if r.Body.Air != nil {
			p.Temperature, degrees = r.Body.Air.Float(), s.temperature(*r.Body.Air)
			today = p.Temperature
		}
		pairs, all = append(pairs, p), append(all, p.Hot)
		if r.Body.Felt == "better" {
			good = append(good, p.Hot)
		}
		out.Rows = append(out.Rows, []string{book.Ridden(r).Format("2 Jan 15:04"), pressureIn(e.a.Book, *cold), pressureIn(e.a.Book, *hot), degrees, r.Body.Felt})
	}
	if len(pairs) == 0 {
		out.Says = "No run here has both its cold and its hot pressure yet."
		return out
	}
	if air != nil {
		today = air.Float()
	}
	near := alike(pairs, today)
	aim, whence := aimFor(s, wanted, good, all)
	out.Wanted = pressureIn(e.a.Book, fixedOf(aim))
	found, err := chassis.ColdPressure(near, aim, today, chassis.Standard)
	if err != nil {
		out.Says = err.Error()
		return out
	}
	unitName := pressureUnit(e.a.Book)
	out.Says = fmt.Sprintf("For %s %s hot (%s), set %s %s cold when the air has %.0f °C", out.Wanted, unitName, whence, pressureIn(e.a.Book, fixedOf(found.Cold)), unitName, today)
	if found.Half > 0 {
		out.Says += fmt.Sprintf(", give or take %s", pressureIn(e.a.Book, fixedOf(found.Half)))
	}
	out.Says += fmt.Sprintf(". From %s here in such weather.", many(found.PairCount, "run"))
	return out
}

// Runs in weather like today's tell most: those within likeAir °C, if there
// are likeRuns of them. Common practice, no source.
const (
	likeAir  = 6.0
	likeRuns = 3
)

func alike(pairs []chassis.HotPair, today float64) []chassis.HotPair {
	var near []chassis.HotPair
	for _, p := range pairs {
		if math.Abs(p.Temperature-today) <= likeAir {
			near = append(near, p)
		}
	}
	if len(near) < likeRuns {
		return pairs
	}
	return near
}

func aimFor(s shower, wanted *unit.Fixed, good, all []float64) (aim float64, whence string) {
	switch {
	case wanted != nil:
		return s.typed(&book.Setting{Def: book.Def{Unit: "kPa"}}, *wanted).Float(), "as you want it"
	case len(good) > 0:
		return laps.Median(good), "as in the runs that felt better"
	}
	return laps.Median(all), "as in the runs so far"
}
