// Package arrows holds the rooms to the arrows between them: which may import
// which, and why not. It has no code of its own, only this test.
package arrows

import (
	"os/exec"
	"slices"
	"strings"
	"testing"
)

const module = "plumbline/"

// mayImport lists, for each core and server room, the other rooms it may use.
// Commands join the rooms and may import every one.
var mayImport = map[string][]string{
	"internal/unit":       {},
	"internal/entry":      {},
	"internal/book":       {"internal/unit", "internal/entry"},
	"internal/chassis":    {"internal/unit"},
	"internal/calc":       {"internal/unit", "internal/chassis"},
	"internal/laps":       {},
	"internal/laps/trace": {"internal/laps"},
	"internal/diagnosis":  {},
	"internal/archive":    {"internal/entry"},
	"internal/sheet":      {"internal/unit"},
	"internal/phrase":     {},
	"internal/example":    {"internal/unit", "internal/entry", "internal/book"},
	"internal/screen":     {"internal/unit", "internal/entry", "internal/book", "internal/laps", "internal/laps/trace", "internal/diagnosis", "internal/sheet", "internal/phrase", "internal/chassis", "internal/calc"},
	"internal/store":      {"internal/entry", "internal/share"},
	"internal/share":      {"internal/entry"},
	"internal/desk":       {"internal/entry", "internal/archive", "internal/share"},
	"internal/web":        {"internal/unit", "internal/entry", "internal/book", "internal/sheet", "internal/screen", "internal/share", "internal/desk"},
}

// core are the rooms that also run on the phone. They are pure: these packages
// would give them a clock, chance, files or a network, or a megabyte.
var core = []string{"internal/unit", "internal/entry", "internal/book", "internal/chassis", "internal/calc", "internal/laps", "internal/laps/trace", "internal/diagnosis", "internal/archive", "internal/sheet", "internal/phrase", "internal/example", "internal/screen"}

var never = map[string]string{
	"crypto/rand":                            "chance is an argument",
	"math/rand":                              "chance is an argument",
	"math/rand/v2":                           "chance is an argument",
	"net/http":                               "the network belongs to web and relay.ts",
	"os":                                     "files belong to the commands",
	"database/sql":                           "storage belongs to store and shelf.ts",
	"github.com/go-playground/validator/v10": "900 KB on the phone; shapes are the wire's affair",
}

func imports(t *testing.T, room string) []string {
	t.Helper()
	out, err := exec.Command("go", "list", "-f", `{{join .Imports "\n"}}`, module+room).Output()
	if err != nil {
		t.Fatalf("%s: %v", room, err)
	}
	return strings.Fields(string(out))
}

func TestArrows(t *testing.T) {
	for _, room := range rooms(t) {
		for _, path := range imports(t, room) {
			other, ours := strings.CutPrefix(path, module)
			if ours && !slices.Contains(mayImport[room], other) {
				t.Errorf("%s imports %s; it may import only %v", room, other, mayImport[room])
			}
		}
	}
}

func TestCoreIsPure(t *testing.T) {
	for _, room := range core {
		for _, path := range imports(t, room) {
			if why, bad := never[path]; bad {
				t.Errorf("%s imports %s: %s", room, path, why)
			}
		}
	}
}

// rooms are the rooms that there are, but for the two that only test others.
func rooms(t *testing.T) []string {
	t.Helper()
	out, err := exec.Command("go", "list", module+"internal/...").Output()
	if err != nil {
		t.Fatal(err)
	}
	var found []string
	for _, path := range strings.Fields(string(out)) {
		room := strings.TrimPrefix(path, module)
		if room != "internal/arrows" && room != "internal/browsertest" {
			found = append(found, room)
		}
	}
	return found
}

func TestEveryRoomHasItsArrows(t *testing.T) {
	for _, room := range rooms(t) {
		if _, ok := mayImport[room]; !ok {
			t.Errorf("%s has no line in the table: say what it may import", room)
		}
	}
}
