package calc

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Bad input gets its sentence at its field, and nothing is computed.
func TestBadInputIsRefused(t *testing.T) {
	noise, err := os.ReadFile("../../testdata/bounces/noise.csv")
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range []struct{ topic, args, field, says string }{
		{"geometry", "rake=0deg radius=300mm offset=30mm", "rake", "Rake cannot be 0"},
		{"geometry", "rake=-24deg radius=300mm offset=30mm", "rake", "Rake cannot be"},
		{"geometry", "rake=NaN radius=300mm offset=30mm", "rake", "not a number"},
		{"geometry", "rake=Inf radius=300mm offset=30mm", "rake", "not a number"},
		{"geometry", "rake=1e400 radius=300mm offset=30mm", "rake", "not a number"},
		{"geometry", "rake=24deg head=66deg radius=300mm offset=30mm", "rake", "both given"},
		{"geometry", "rake=24deg radius=300mm tyre=120/70R17 offset=30mm", "tyre", "both given"},
		{"geometry", "rake=24deg tyre=banana offset=30mm", "tyre", "not a metric tyre size"},
		{"geometry", "rake=24deg radius=300mm offset=30mm trail=100mm", "offset", "both given"},
		{"geometry", "rake=24deg radius=300mm", "trail", "Neither trail nor offset"},
		{"geometry", "rake=24s radius=300mm offset=30mm", "rake", "is not a unit of angle"},
		{"geometry-change", "wheelbase=1400 rake=24 offset=30 front-radius=300 rear-radius=315 swingarm=580", "swingarm", "go together"},
		{"geometry-change", "wheelbase=100 rake=24 offset=30 front-radius=300 rear-radius=315", "wheelbase", "cannot be 100"},
		{"pressure", "pressure=-2bar from=20C to=60C", "pressure", "cannot be −2 bar"},
		{"pressure", "pressure=2bar from=-300C to=60C", "from", "cannot be"},
		{"pressure", "pressure=2bar from=20C", "to", "nothing to correct"},
		{"pressure", "pressure=2bar from=20C to-altitude=20km", "to-altitude", "cannot be"},
		{"cold-pressure", "cold=1.9,2.0bar hot=2.3bar wanted=2.4bar today=20C", "hot", "Cold pressures given: 2; hot ones: 1."},
		{"cold-pressure", "cold=2.4bar hot=1.9bar wanted=2.4bar today=20C", "hot", "not above the cold one"},
		{"sag-pair", "end=rear free=40mm rider=30mm", "free", "not below rider sag"},
		{"sag-pair", "end=rear free=30mm rider=30mm", "free", "not below rider sag"},
		{"sag-pair", "end=middle free=10mm rider=30mm", "end", "cannot be"},
		{"sag", "extended=500mm pushed=466mm lifted=510mm", "lifted", "more than fully extended"},
		{"sag", "extended=500mm pushed=480mm lifted=470mm", "pushed", "stiction"},
		{"sag", "extended=500mm pushed=300mm lifted=310mm travel=120mm", "travel", "more than the whole travel"},
		{"spring-rate", "free=0mm rider=30mm rider-load=560N", "free", "topped out"},
		{"preload", "rate=95N/mm motion-ratio=0.5 load=600N sag=100mm", "sag", "no preload at all"},
		{"spring-wire", "wire=11.5mm mean=15mm active=6", "mean", "too narrow"},
		{"spring-wire", "wire=11.5mm outside=5mm active=6", "", ""},
		{"spring-wire", "wire=11.5mm mean=61.5mm total=2 ends=squared", "", ""},
		{"chain-length", "front=16 rear=43 links=34", "links", "does not go around"},
		{"chain-length", "front=16 rear=43 centre=120mm", "centre", "would touch"},
		{"chain-length", "front=16 rear=43", "links", "either the links or the centre"},
		{"chain-length", "front=16 rear=43 links=113.5", "links", "not a whole number"},
		{"chain-length", "front=16 rear=43 links=114 chain=999", "chain", "not known"},
		{"chain-wear", "measured=500mm", "measured", "not a length this chain can have"},
		{"chain-tightest", "front=16 rear=43 slack=35mm swingarm=580mm sprocket-ahead=75mm at=30deg topped=15deg bottomed=-5deg", "at", "outside the travel"},
		{"gearing", "front=0 rear=43", "front", "cannot be 0"},
		{"gearing", "front=16 rear=43 primary=1.9", "gears", "Speeds need"},
		{"squat", "wheelbase=1400 centre-height=600 rear-radius=315 pivot-ahead=570 pivot-height=100 sprocket-ahead=645 sprocket-height=430 front=16 rear=43", "pivot-height", "straight down"},
		{"fork-air", "volume=100cm3 diameter=43mm travel=120mm", "travel", "no air is left"},
		{"fork-air", "volume=300cm3 diameter=43mm travel=120mm start=-1bar", "start", "cannot be"},
		{"fork-air", "diameter=43mm travel=120mm", "volume", "air volume is missing"},
		{"cold-pressure", "wanted=2.4bar hot-at=10C today=20C", "hot-at", "no warmer than today's air"},
		{"convert", "value=-300C to=K", "value", "Nothing is that cold"},
		{"bounce", "peaks=0,0,0", "peaks", "cannot be 0"},
		{"bounce", "peaks=3,4,5", "peaks", "does not die away"},
		{"bounce", "peaks=3", "peaks", "at least two peaks"},
		{"bounce", "peaks=9,-4,-2", "peaks", "change sides"},
		{"bounce", "peaks=9,4,2 cycles=3", "cycles", "only with two peaks"},
		{"pressure", "pressure=2.1 from=20C to=60C", "pressure", "cannot be 2.1 kPa"},
		{"bounce", "overshoot=0", "overshoot", "cannot be 0"},
		{"bounce-trace", "trace=hello", "trace", "only 0 readings"},
		{"tyre-age", "code=5514", "code", "no week 55"},
		{"tyre-age", "code=2714 today=yesterday", "today", "not a date"},
		{"tyre", "size=MT90-16", "size", "not a metric tyre size"},
		{"bars", "left=1400mm right=700mm half=360mm", "left", "differ more"},
		{"bars", "left=1000mm half=360mm", "left", "Both distances"},
		{"convert", "value=10", "value", "no unit"},
		{"convert", "value=10kgf/mm to=psi", "to", "measures something else"},
		{"weights", "front=98kg rear=102kg front-with=90kg rear-with=150kg", "front-with", "no more than without"},
		{"heat-cycles", "sessions=4 temperatures=20C", "sessions", "either sessions or temperatures"},
		{"tread", "inner=70C middle=80C", "outer", "missing"},
		{"travel", "used=130mm travel=120mm", "used", "More travel is used"},
		{"alignment", "left=600mm right=500mm apart=250mm", "left", "more than 50 mm"},
		{"atmosphere", "altitude=20000m", "altitude", "cannot be"},
		{"ride-frequency", "front-rate=19N/mm", "front-mass", "wheel rate and its sprung mass"},
	} {
		refuses(t, r.topic, typed(t, r.args), r.field, r.says)
	}
	refuses(t, "bounce-trace", map[string]string{"trace": string(noise)}, "trace", "no clean decay")
	refuses(t, "geometry", map[string]string{"rake": "24", "RAKE": "25", "radius": "300", "offset": "30"}, "rake", "given twice")
	refuses(t, "geometry", map[string]string{"rake": strings.Repeat("9", 100), "radius": "300", "offset": "30"}, "rake", "too long")
}

// refuses fails unless the topic has a problem at the field and no result. An
// empty field and says ask only for some problem.
func refuses(t *testing.T, topic string, typed map[string]string, field, says string) {
	t.Helper()
	found, ok := Find(topic)
	if !ok {
		t.Fatalf("there is no topic %q", topic)
	}
	out, problems := found.Run(typed)
	if len(problems) == 0 || len(out.Values) > 0 {
		t.Errorf("%s %v: %d problems and %d values", topic, typed, len(problems), len(out.Values))
		return
	}
	at := false
	for _, p := range problems {
		if p.Says == "" || p.Mend == "" || !strings.HasSuffix(p.Mend, ".") {
			t.Errorf("%s %v: %+v lacks a sentence", topic, typed, p)
		}
		at = at || (field == "" || p.Field == field) && strings.Contains(p.Says, says)
	}
	if !at {
		t.Errorf("%s %v: %+v; want %q at %s", topic, typed, problems, says, field)
	}
}

// Whatever is typed, within its limits or not, there is a result or a problem,
// and no number is NaN or endless.
func TestNothingBreaksRun(t *testing.T) {
	all := Topics()
	rapid.Check(t, func(t *rapid.T) {
		topic := all[rapid.IntRange(0, len(all)-1).Draw(t, "topic")]
		words := map[string]string{}
		for _, in := range topic.Inputs {
			if in.Optional && rapid.Bool().Draw(t, "leave "+in.Symbol) {
				continue
			}
			words[in.Symbol] = anything(t, in)
		}
		sound(t, topic, words)
	})
}

func anything(t *rapid.T, in *Input) string {
	if in.Kind == "" {
		return rapid.SampledFrom(append(append([]string{"", "?", "2714", "120/70R17"}, in.Choices...), in.Accepts...)).Draw(t, in.Symbol)
	}
	number := func() string {
		v := rapid.OneOf(rapid.Float64Range(in.Min, in.Max), rapid.SampledFrom([]float64{in.Min, in.Max, 0, 1, -1}), rapid.Float64()).Draw(t, in.Symbol)
		if in.Whole {
			v = math.Trunc(v)
		}
		return fmt.Sprint(v)
	}
	s := number()
	for in.List && rapid.Bool().Draw(t, "more") {
		s += "," + number()
	}
	return s
}

type failer interface {
	Errorf(format string, args ...any)
	Fatalf(format string, args ...any)
}

func sound(t failer, topic Topic, words map[string]string) {
	out, problems := topic.Run(words)
	if (len(problems) == 0) != (len(out.Values) > 0) {
		t.Fatalf("%s %v: %d problems, %d values", topic.ID, words, len(problems), len(out.Values))
	}
	if _, err := json.Marshal(out); err != nil {
		t.Fatalf("%s %v: %v", topic.ID, words, err)
	}
	for _, p := range problems {
		if p.Says == "" || p.Mend == "" {
			t.Errorf("%s %v: %+v", topic.ID, words, p)
		}
	}
	for _, s := range append(append(append([]string(nil), out.Says...), out.Cautions...), out.Assumed...) {
		if strings.Contains(s, "NaN") || strings.Contains(s, "Inf") {
			t.Errorf("%s %v: %s", topic.ID, words, s)
		}
	}
}

func FuzzRun(f *testing.F) {
	for i, topic := range Topics() {
		f.Add(i, topic.Example)
		f.Add(i, strings.ReplaceAll(topic.Example, "=", "=-"))
		f.Add(i, strings.ReplaceAll(topic.Example, "mm", "e9mm"))
	}
	f.Fuzz(func(t *testing.T, which int, args string) {
		all := Topics()
		if which < 0 || which >= len(all) {
			return
		}
		words := map[string]string{}
		for _, a := range strings.Fields(args) {
			if name, value, ok := strings.Cut(a, "="); ok {
				words[name] = value
			}
		}
		sound(t, all[which], words)
	})
}
