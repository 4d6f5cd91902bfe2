package browsertest

import (
	"strings"
	"testing"
)

func TestDaysAndASession(t *testing.T) {
	p := WithExample(t)
	p.Go("/days")
	p.See("Sat 12 Sep 2026, Tarn Hollow")
	p.See("Rear compression: 2 clicks in, from 12 to 10 out")
	fit(t, p, "days")
	p.Tap("The season as a table")
	p.See("the best middle lap here")
	p.Tap("Session 3, 12:20")
	p.See("Settings as they were then")
	p.See("10 clicks out changed before it")
	fit(t, p, "session")
	p.Tap("Correct or add")
	p.Type("note", "a cloud came over")
	p.Picture("session-mend")
	p.Tap("Write the correction")
	p.See("a cloud came over")
	p.Tap("Earlier session")
	p.See("Session 2, Sat 12 Sep 2026")
	p.NoComplaints()
}

func TestTracksAreSketchedAndNamed(t *testing.T) {
	p := WithExample(t)
	p.Go("/tracks")
	p.See("Fenwick Moor")
	fit(t, p, "tracks")
	p.Tap("Fenwick Moor")
	p.See("Laps can be timed at its line.")
	p.See("wallows on the drive out of the long right")
	fit(t, p, "track")
	p.Tap("Change the corners")
	p.Type("corner-4", "Wall")
	p.Picture("corners")
	p.Tap("Write them down")
	p.See("4 Wall")
	p.Tap("Timing lines")
	p.TapElement("dialog .track-placing")
	p.SeeElement(".track-spot")
	p.Picture("lines")
	p.Tap("Keep these lines")
	p.SeeNot("Keep these lines")
	p.Go("/tracks")
	p.Tap("Add a track")
	p.Type("name", "Cold Ness")
	p.Tap("Write it down")
	p.Tap("Cold Ness")
	p.See("There is no map of this track yet.")
	p.Tap("Sketch it")
	p.SeeElement(".track-pad")
	p.Run(`(() => {
  const el = document.querySelector(".track-pad"), r = el.getBoundingClientRect();
  const at = (n) => ({ pointerId: 1, bubbles: true, clientX: r.x + r.width * (0.5 + 0.4 * Math.cos(n / 10)), clientY: r.y + r.height * (0.5 + 0.3 * Math.sin(n / 10)) });
  el.setPointerCapture = () => {};
  el.dispatchEvent(new PointerEvent("pointerdown", at(0)));
  for (let n = 1; n < 62; n++) el.dispatchEvent(new PointerEvent("pointermove", at(n)));
  el.dispatchEvent(new PointerEvent("pointerup", at(62)));
})()`)
	p.Picture("sketch")
	p.Tap("Keep this sketch")
	p.See("A sketch of Cold Ness, not to scale.")
	p.Picture("sketched")
	p.NoComplaints()
}

func TestWhatIsDueIsResetByAService(t *testing.T) {
	p := WithExample(t)
	p.Go("/due")
	p.See("common practice, no source")
	p.See("3 of 12 track days")
	fit(t, p, "due")
	p.Run(`document.querySelector("#due-brake-fluid button").click()`)
	p.See("Who did it?")
	p.Picture("due-done")
	p.Tap("Write it down")
	p.See("0 of 8 track days")
	p.Run(`document.querySelectorAll("#due-brake-fluid button")[1].click()`)
	p.Type("months", "24")
	p.Picture("due-interval")
	p.Tap("Write it down")
	p.See("the service manual, as you typed it")
	p.NoComplaints()
}

func TestLapsByHandAreMarkedAndOverruled(t *testing.T) {
	p := WithExample(t)
	p.Go("/laps/jul-2")
	p.See("8 laps")
	fit(t, p, "laps")
	p.lap("1529")
	p.See("To be written down")
	p.See("9 laps")
	p.Run(`document.querySelectorAll(".lap-row")[3].click()`)
	p.See("What was it?")
	p.Picture("lap-mark")
	p.Tap("Held up or a slip")
	p.Tap("Done")
	p.See("your word")
	p.Tap("Type or say many")
	p.Type("many", "one fifty two four")
	p.See("one fifty two four: 1:52.4")
	p.Tap("Take 1 lap")
	p.See("10 laps")
	p.Load("/laps/jul-2") // what was typed comes back
	p.See("10 laps")
	p.Tap("Write it down")
	p.See("By hand today")
	p.NoComplaints()
}

// lap taps a lap on the big keys and hands it on.
func (p *Phone) lap(digits string) {
	p.t.Helper()
	for _, d := range digits {
		p.Run(`[...document.querySelectorAll(".lap-keys button")].find((b) => b.innerText.trim() === ` + quoted(string(d)) + `).click()`)
	}
	p.wait(`document.querySelector("#lap-read")?.innerText.startsWith("Read as") && document.querySelector(".lap-keys output")?.innerText.trim() === `+quoted(digits), "the lap "+digits)
	p.Run(`document.querySelector("#next-lap").click()`)
	p.wait(`document.querySelector(".lap-keys output")?.innerText.trim() === "–"`, "room for the next lap")
}

// giveText puts a text file into a file field.
func (p *Phone) giveText(selector, name, text string) {
	p.t.Helper()
	p.SeeElement(selector)
	p.Run(`(() => { const el = document.querySelector(` + quoted(selector) + `); const list = new DataTransfer();
  list.items.add(new File([` + quoted(text) + `], ` + quoted(name) + `));
  el.files = list.files; el.dispatchEvent(new Event("change", { bubbles: true })); })()`)
}

func TestLapsOutOfFiles(t *testing.T) {
	p := WithExample(t)
	p.Go("/laps/jul-2?file")
	p.See("The file stays on this phone.")
	p.giveText("#laps-file", "laps.csv", "Turn;Runde;Zeit\n1;1;1:52,4\n1;2;1:51,9\n1;3;DNF\n2;1;1:50,0\n2;2;1:50,4\n")
	p.See("4 laps read, 1 line not.")
	p.Tap("1 place was not read")
	p.See("DNF")
	fit(t, p, "laps-table")
	p.Tap("Take these 2 laps")
	p.See("To be written down")

	p.giveText("#laps-file", "ride.gpx", gpxRide())
	p.See("The line is the start and finish of Fenwick Moor.")
	fit(t, p, "laps-trace")
	p.Tap("Take these 3 laps")
	p.See("The track's map and line come with them.")
	p.Tap("Write it down")
	p.See("From a trace")
	p.NoComplaints()
}

func TestLiveTiming(t *testing.T) {
	p := WithExample(t)
	p.Go("/laps/jul-2?live")
	p.See("Do not look at it on track.")
	p.Run(`(() => { // the phone's own positioning, emulated: it rides when it is told to
  window.ridden = [];
  navigator.geolocation.watchPosition = (ok) => { window.place = (lat, lon, at) => ok({ coords: { latitude: lat, longitude: lon, accuracy: 5 }, timestamp: at }); return 1; };
  navigator.geolocation.clearWatch = () => {};
})()`)
	p.Tap("Start")
	p.wait(`"place" in window`, "the watch")
	var b strings.Builder
	for _, f := range ride() {
		b.WriteString("place(" + f + ");")
	}
	p.Run(b.String())
	p.See("Last 1:52.0")
	p.See("may be off by about")
	fit(t, p, "live")
	p.Tap("Stop")
	p.Tap("Take these 3 laps")
	p.See("To be written down")
	p.Tap("Write it down")
	p.See("Timed by this phone")
	p.NoComplaints("wake")
}
