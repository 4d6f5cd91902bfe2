package screen

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"plumbline/internal/book"
	"plumbline/internal/calc"
)

// Reading is what a measurement says: sentences first, the first of them the
// one to remember; then numbers, pictures and tables.
type Reading struct {
	Says     []string       `json:"says"`
	Cautions []string       `json:"cautions"`
	Values   []NamedValue   `json:"values"`
	Gauges   []Gauge        `json:"gauges"`
	Charts   []Chart        `json:"charts"`
	Tables   []calc.Table   `json:"tables"`
	Scene    *Scene         `json:"scene,omitempty"`
	Source   string         `json:"source,omitempty"`
	Assumed  []string       `json:"assumed"`         // what was taken without being measured
	Wrong    []book.Refusal `json:"wrong,omitempty"` // why there is no reading
}

// NamedValue is a number with its uncertainty and unit.
type NamedValue struct {
	Name  string `json:"name"`
	Shown string `json:"shown"`
}

// Gauge is a bar from Lo to Hi with the range to aim for, and where the
// reading stands on it.
type Gauge struct {
	Name   string  `json:"name"`
	Unit   string  `json:"unit"`
	Lo     float64 `json:"lo"`
	Hi     float64 `json:"hi"`
	From   float64 `json:"from"` // the range; From = To is none
	To     float64 `json:"to"`
	At     float64 `json:"at"`
	Shown  string  `json:"shown"`
	Says   string  `json:"says"`
	Source string  `json:"source,omitempty"`
}

// Chart is lines over common axes, with ticks where numbers stand.
type Chart struct {
	Title string       `json:"title"`
	X     ChartAxis    `json:"x"`
	Y     ChartAxis    `json:"y"`
	Lines []ChartLine  `json:"lines"`
	Spots []ChartPoint `json:"spots"`
}

// ChartAxis is one side of a chart.
type ChartAxis struct {
	Label string    `json:"label"`
	Unit  string    `json:"unit"`
	Lo    float64   `json:"lo"`
	Hi    float64   `json:"hi"`
	Ticks []float64 `json:"ticks"`
}

// ChartLine is one line of a chart.
type ChartLine struct {
	Title  string       `json:"title"`
	Points [][2]float64 `json:"points"`
}

// ChartPoint is a marked place on a chart.
type ChartPoint struct {
	X     float64 `json:"x"`
	Y     float64 `json:"y"`
	Title string  `json:"title"`
}

// take puts what the arithmetic found behind what is there already. Values are
// all listed; sentences and cautions are joined without repeating any.
func (o *Reading) take(r calc.Result) {
	o.Says, o.Cautions = also(o.Says, r.Says...), also(o.Cautions, r.Cautions...)
	for _, s := range r.Assumed {
		taken, _, _ := strings.Cut(s, ", as nothing was said")
		o.Assumed = append(o.Assumed, strings.Replace(lower(taken), ":", "", 1))
	}
	o.values(r)
	o.Source = calcTopics()[r.Topic].Source
	o.Charts = append(o.Charts, charts(r.Series)...)
	o.Tables = append(o.Tables, r.Tables...)
}

func (o *Reading) values(r calc.Result) {
	for _, v := range r.Values {
		o.Values = append(o.Values, NamedValue{v.Label, v.Shown})
	}
}

// numberOf is a number of a result, 0 when it has none of that name.
func numberOf(r calc.Result, symbol string) float64 {
	for _, v := range r.Values {
		if v.Symbol == symbol {
			return v.Value
		}
	}
	return 0
}

// shownOf is a number of a result as it reads.
func shownOf(r calc.Result, symbol string) string {
	for _, v := range r.Values {
		if v.Symbol == symbol {
			return v.Shown
		}
	}
	return ""
}

// charts joins lines with the same axes into one chart each.
func charts(all []calc.Series) []Chart {
	var out []Chart
	for _, s := range all {
		if len(s.Points) < 2 {
			continue
		}
		at := -1
		for i, c := range out {
			if c.X.Label == s.X.Label && c.Y.Label == s.Y.Label && c.Y.Unit == s.Y.Unit {
				at = i
			}
		}
		if at < 0 {
			out = append(out, Chart{Title: s.Y.Label + " against " + lower(s.X.Label), X: axis(s.X.Label, s.X.Unit), Y: axis(s.Y.Label, s.Y.Unit), Spots: []ChartPoint{}})
			at = len(out) - 1
		}
		out[at].Lines = append(out[at].Lines, ChartLine{s.Title, fewer(s.Points)})
	}
	for i := range out {
		out[i].frame()
	}
	return out
}

func axis(label, unit string) ChartAxis {
	return ChartAxis{Label: label, Unit: unit, Lo: math.Inf(1), Hi: math.Inf(-1)}
}

// frame fits the axes around the lines and puts ticks at round numbers.
func (c *Chart) frame() {
	for _, l := range c.Lines {
		for _, p := range l.Points {
			c.X.reach(p[0])
			c.Y.reach(p[1])
		}
	}
	for _, p := range c.Spots {
		c.X.reach(p.X)
		c.Y.reach(p.Y)
	}
	c.X.ticks(6 - len(fmt.Sprintf("%.0f", c.X.Hi))/4) // long numbers need room beside each other
	c.Y.ticks(6)
}

func (a *ChartAxis) reach(v float64) { a.Lo, a.Hi = min(a.Lo, v), max(a.Hi, v) }

// ticks widens an axis to round numbers, with so many steps at most.
func (a *ChartAxis) ticks(most int) {
	if !(a.Hi > a.Lo) {
		a.Lo, a.Hi = a.Lo-1, a.Lo+1
	}
	if math.IsInf(a.Lo, 0) || math.IsNaN(a.Lo) {
		a.Lo, a.Hi = 0, 1
	}
	step := math.Pow(10, math.Floor(math.Log10((a.Hi-a.Lo)/4)))
	for _, by := range []float64{1, 2, 2.5, 5, 10} {
		if (a.Hi-a.Lo)/(step*by) <= float64(most) {
			step *= by
			break
		}
	}
	lo, hi := math.Floor(a.Lo/step+1e-9), math.Ceil(a.Hi/step-1e-9)
	a.Ticks = nil
	for n := lo; n <= hi; n++ {
		v, _ := strconv.ParseFloat(strconv.FormatFloat(n*step, 'g', 10, 64), 64) // our own digits
		a.Ticks = append(a.Ticks, v)
	}
	a.Lo, a.Hi = a.Ticks[0], a.Ticks[len(a.Ticks)-1]
}

// fewer leaves at most some two hundred points, rounded: a screen shows no
// more.
func fewer(points [][2]float64) [][2]float64 {
	step := 1 + len(points)/200
	var out [][2]float64
	for i := 0; i < len(points); i += step {
		out = append(out, [2]float64{fixedOf(points[i][0]).Float(), fixedOf(points[i][1]).Float()})
	}
	return out
}
