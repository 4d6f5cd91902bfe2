// Package browsertest drives the app in a real, headless Chromium that looks
// like a phone, against the real server with a real database. It is for tests
// only, and it is no place for rules about bikes.
//
//	p := WithExample(t)        // a fresh phone and server, the example season open
//	p.Go("/bike")
//	p.Tap("Counted it")        // by what the rider reads
//	p.Type("note", "by torch") // by the field's name
//	p.See("Saved")
//	p.Audit()                  // axe-core: no violation, in any theme
//	p.Picture("counted")       // PNGs into $PICTURES, one per theme
package browsertest
