// Package browsertest drives the app in a real, headless Chromium that looks
// like a phone, against the real server with a real database. It is for tests
// only, and it is no place for rules about bikes.
//
//	p := browsertest.Open(t)   // a fresh phone, a fresh server, the app open
//	p.OpenExample()            // the example season
//	p.Go("/bike")
//	p.Tap("Counted it")        // by what the rider reads
//	p.Type("note", "by torch") // by the field's name
//	p.See("Saved")
//	p.Audit()                  // axe-core: no violation, in any theme
//	p.Picture("counted")       // PNGs into $PICTURES, one per theme
package browsertest
