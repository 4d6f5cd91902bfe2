package browsertest

import "testing"

// TestSideOnBike sees the bike drawn from what was measured, and what a turn
// of the fork in the clamps does to it.
func TestSideOnBike(t *testing.T) {
	p := WithExample(t)
	p.Tap("Turned something")
	p.TapElement(`[data-adjuster="front.height"]`)
	p.Tap("1.5 mm up")
	p.See("fork 1.5 mm up in the clamps: rake −0.1°, trail −0.3 mm")
	p.Tap("To try it")
	p.Tap("Write it down")
	p.See("Came in")
	p.Go("/bike")
	p.See("fork 1.5 mm up in the clamps")
	p.Tap("From the side")
	p.See("Rake 23.9°")
	p.SeeElement(".scene")
	p.Picture("bike-side")
	p.Audit()
	p.NoComplaints()
}

// TestMeasuringRound measures the rear sag with the server stopped, one number
// at a time, and finds it on Measure again.
func TestMeasuringRound(t *testing.T) {
	p := WithExampleOffline(t)
	p.Go("/measure")
	p.See("First: how it sits")
	fit(t, p, "measure-list")
	p.Tap("Rear sag")
	p.See("Why this matters")
	p.See("33 mm under you, 9 mm by itself")
	fit(t, p, "measure-begin")
	p.Tap("Measure again")
	p.See("1 of 7")
	fit(t, p, "measure-step")
	for _, n := range []string{"562", "549", "554", "520", "529"} {
		p.keys(n)
		p.Tap("Next")
	}
	p.See("Whole travel of the wheel")
	p.Tap("Next") // as last time
	p.See("What do you ride?")
	fit(t, p, "measure-choice")
	p.Tap("Next")
	p.See("Save to the book")
	fit(t, p, "measure-end")
	p.Tap("Save to the book")
	p.See("It is in the book")
	fit(t, p, "measure-saved")
	p.NoComplaints("ERR_CONNECTION_REFUSED", "Failed to fetch")
}

// keys types a number on the page's own keys.
func (p *Phone) keys(number string) {
	p.t.Helper()
	for _, k := range number {
		name := string(k)
		switch k {
		case '.':
			name = "point"
		case '-':
			name = "plus or minus"
		}
		p.Tap(name)
	}
	p.wait(`document.querySelector(".keys-shows input")?.value === `+quoted(number)+` && !document.querySelector(".key-next").disabled`, "the number "+number+" on the page")
}

// TestBounceIsRecorded records a made bounce by the phone's motion events,
// sees the fit on the trace, and is refused where nothing but noise comes.
func TestBounceIsRecorded(t *testing.T) {
	p := WithExample(t)
	p.Go("/measure/bounce-rear")
	p.See("Why this matters")
	p.Tap("Start")
	p.See("Record the bounce")
	p.Tap("Start")
	p.See("Recording")
	p.Run(motion("(Math.sin(i * 91.7) + Math.sin(i * 37.3) + Math.sin(i * i)) * 0.8"))
	p.Tap("Stop")
	p.See("no clean decay")
	fit(t, p, "measure-bounce-noise")
	p.Tap("Start")
	p.See("Recording")
	p.SeeNot("no clean decay") // what was said of the noise is gone
	p.Run(motion("t < 1.5 ? 0 : 3 * Math.exp(-3.14 * (t - 1.5)) * Math.cos(12.2 * (t - 1.5))"))
	p.Tap("Stop")
	p.See("Recorded.")
	p.Tap("Next")
	p.See("Damping ratio 0.25")
	p.See("The recording, and the fit on it")
	p.SeeElement(".chart-line-1")
	fit(t, p, "measure-bounce")
	p.Tap("Save to the book")
	p.See("It is in the book")
	p.See("Damping ratio 0.25")
	p.NoComplaints()
}

// motion is script that sends six seconds of motion events at once, sixty a
// second by their own time; a is the acceleration over gravity at time t.
func motion(a string) string {
	return `for (let i = 0; i < 360; i++) {
  const t = i / 60;
  const e = new DeviceMotionEvent("devicemotion", { accelerationIncludingGravity: { x: 0.1, y: 0, z: 9.81 + (` + a + `) }, interval: 16 });
  Object.defineProperty(e, "timeStamp", { value: 1000 + t * 1000 });
  dispatchEvent(e);
}`
}

// TestMeasuresReachBikeAndWhy measures a bar that stands askew and a rear that
// sags too far, without signal: Bike shows both, Why takes them as evidence.
func TestMeasuresReachBikeAndWhy(t *testing.T) {
	p := WithExampleOffline(t)
	p.Go("/measure/bars")
	p.Tap("Measure again")
	for _, n := range []string{"1016", "1000"} {
		p.keys(n)
		p.Tap("Next")
	}
	p.Tap("Next") // half the bar, as last time
	fit(t, p, "measure-bars-step")
	p.Tap("Next")
	p.See("turned to the")
	fit(t, p, "measure-bars")
	p.Tap("Save to the book")
	p.See("It is in the book")
	p.Go("/bike")
	p.Tap("Measured")
	p.See("Bars straight")
	p.See("turned to the right")
	p.Go("/book")
	p.See("Measured: bars straight")
	p.Go("/why")
	p.Type("words", "turns easier left than right")
	p.Tap("Yes: It turns in harder one way than the other.")
	p.See("The bar ends stand at different distances.")
	p.NoComplaints("ERR_CONNECTION_REFUSED", "Failed to fetch")
}

// TestBadReadingIsRefusedAtItsField: what cannot be has its sentence, and
// cannot be saved.
func TestBadReadingIsRefusedAtItsField(t *testing.T) {
	p := WithExample(t)
	p.Go("/measure/geometry")
	p.Tap("Measure again")
	p.keys("1400")
	p.Tap("Next")
	p.See("From the manual. It is measured from the vertical")
	p.Tap("0")
	p.See("Rake cannot be 0")
	fit(t, p, "measure-refused")
	p.wait(`document.querySelector(".key-next").disabled`, "no way on")
	p.Tap("delete")
	p.keys("24")
	p.Tap("Next")
	p.See("Offset")
	p.NoComplaints()
}

// TestChartsAreReadable sees curves with their axes, units and tables in every
// theme.
func TestChartsAreReadable(t *testing.T) {
	p := WithExample(t)
	p.Go("/measure/fork-air")
	p.See("Force against travel")
	p.See("Travel, mm")
	p.See("Force, N")
	p.Tap("The same as a table")
	fit(t, p, "measure-chart")
	p.Go("/measure/gearing")
	p.See("final ratio of 2.75")
	fit(t, p, "measure-gearing")
	p.NoComplaints()
}
