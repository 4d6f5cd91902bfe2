package browsertest

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// routeLine is a screen's line in static/src/screens/index.ts.
var routeLine = regexp.MustCompile(`\{ path: "([^"]+)", title: "([^"]+)"`)

// examples stand for the :names in addresses, and add what a screen asks for.
var examples = map[string]string{
	"/bike/setting/:id": "/bike/setting/rear.rebound",
	"/handbook/:id":     "/handbook/chain-tight",
	"/measure/:topic":   "/measure/sag-rear",
	"/tracks/:id":       "/tracks/tarn-hollow",
	"/checks":           "/checks?check=chain",
}

// TestEveryRouteReloads loads every address of the app anew, first with the
// server there and then with it gone: each shows its heading and something
// below it, and the page complains of nothing.
func TestEveryRouteReloads(t *testing.T) {
	source, err := os.ReadFile(filepath.Join("..", "..", "static", "src", "screens", "index.ts"))
	if err != nil {
		t.Fatal(err)
	}
	routes := routeLine.FindAllStringSubmatch(string(source), -1)
	if len(routes) < 20 {
		t.Fatalf("only %d routes were read out of index.ts", len(routes))
	}
	p := WithExample(t)
	p.OfflineReady()
	latest := func(kind, what string) string {
		return Ask[string](p, shelfScript+`(async (store, done) => (await done(store("entries", "readonly").getAll())).map((l) => JSON.parse(l)).findLast((e) => e.kind === "`+kind+`").`+what+`)`)
	}
	examples["/line/:id"] = "/line/" + latest("change", "id")
	examples["/trial/:id"] = "/trial/" + latest("change", "id")
	examples["/session/:id"] = "/session/" + latest("session", "body.session")
	examples["/laps/:session"] = "/laps/" + latest("session", "body.session")
	reload := func(when string) {
		for _, r := range routes {
			path, title := r[1], r[2]
			if known, ok := examples[path]; ok {
				path = known
			}
			if strings.Contains(path, ":") {
				t.Errorf("%s has no example address: add one to the examples of this test", path)
				continue
			}
			p.Load(path)
			p.wait(`document.querySelector("h1").innerText === `+quoted(title)+` && document.querySelector("#main").innerText.trim() !== ""`, title+" at "+path+", "+when)
		}
	}
	reload("with the server there")
	p.NoComplaints()
	p.RadioOff()
	reload("with the server gone")
	p.NoComplaints("ERR_CONNECTION_REFUSED", "Failed to fetch")
}
