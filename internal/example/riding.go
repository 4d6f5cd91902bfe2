package example

import (
	"plumbline/internal/book"
	"plumbline/internal/unit"
)

// ride is one session of the season. Base is the time of a clean lap on warm
// tyres, in ms; Spread how far laps lie behind it; Traffic names the laps,
// from 1, that were held up.
type ride struct {
	id      book.SessionID
	at      string // on going out; the pen writes on coming in
	track   book.TrackID
	day     book.DayID
	tyres   book.TyreSetID
	air     int
	ground  int
	wind    string
	fuel    int
	cold    [2]unit.Fixed // kPa, front and rear
	hot     [2]unit.Fixed
	felt    string
	note    string
	base    int
	spread  int
	laps    int
	traffic []int
	sectors bool
	chance  uint32
}

func (t *teller) day(id book.DayID, track book.TrackID, date, note string) {
	t.tell(book.KindDay, book.DayBody{Day: id, Track: track, Date: date, Way: "clockwise", Note: note})
}

// rode writes a session and its laps as they are reported on coming in.
func (t *teller) rode(r ride) {
	t.at(r.at)
	body := book.SessionBody{
		Bike: Heron, Session: r.id, Day: r.day, Track: r.track, Tyres: r.tyres, Air: whole(r.air), Ground: whole(r.ground), Wind: r.wind,
		ColdFront: &r.cold[0], ColdRear: &r.cold[1], Front: &r.hot[0], Rear: &r.hot[1], Felt: r.felt, Note: r.note,
	}
	if r.fuel > 0 {
		body.Fuel = whole(r.fuel)
	}
	t.tell(book.KindSession, body)
	source := "hand"
	if r.sectors {
		source = "trace"
	}
	t.tell(book.KindLaps, book.LapsBody{Bike: Heron, Session: r.id, Laps: r.times(), Source: source})
}

// times draws the laps of a session: an out lap, tyres that come in over two
// laps, noise that only ever makes a lap slower, traffic, an in lap. Whole
// numbers all through, so that every machine draws the same.
func (r ride) times() []book.LapTime {
	dice := r.chance
	roll := func(n int) int { // 0 to n−1
		dice = dice*1664525 + 1013904223
		return int(dice>>16) * n / 65536
	}
	out := make([]book.LapTime, r.laps)
	for i := range out {
		u := roll(1000)
		ms := r.base + r.spread*u/1000*u/400 // squared: most laps are close, a few far
		switch i {
		case 0:
			ms += r.base*9/100 + roll(4000)
		case 1:
			ms += 900 + roll(300)
		case 2:
			ms += 300 + roll(150)
		case r.laps - 1:
			ms += r.base*14/100 + roll(6000)
		}
		ms += 25 * max(0, i-7) // the rear tyre goes off
		for _, held := range r.traffic {
			if held == i+1 {
				ms += 2300 + roll(3600)
			}
		}
		out[i].Time = unit.Fixed(ms)
		if r.sectors {
			first, second := ms*335/1000+roll(200)-100, ms*291/1000+roll(200)-100
			out[i].Sectors = []unit.Fixed{unit.Fixed(first), unit.Fixed(second), unit.Fixed(ms - first - second)}
		}
	}
	return out
}
