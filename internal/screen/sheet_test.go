package screen

import (
	"encoding/json"
	"image"
	"image/color"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"plumbline/internal/sheet"
)

func seasonSheet(t *testing.T, args SheetArgs) sheet.Sheet {
	t.Helper()
	s, refused := SheetOf(exampleAsk(t), args)
	if refused != nil {
		t.Fatal(refused)
	}
	return s
}

func TestSheetOfTheSeason(t *testing.T) {
	s := seasonSheet(t, SheetArgs{Names: true, Notes: true})
	if !strings.HasPrefix(s.Rider, "Nell Harrow, ") || !strings.HasSuffix(s.Rider, " in kit") {
		t.Errorf("rider %q", s.Rider)
	}
	if s.Stop != "" || !strings.HasPrefix(s.Line, "Fresh oil, dry, drawn ") {
		t.Errorf("stop %q, line %q", s.Stop, s.Line)
	}
	i := slices.IndexFunc(s.Settings, func(x sheet.Setting) bool { return x.ID == "rear.rebound" })
	if row := s.Settings[i]; row.At != "10 clicks out" || row.Drift != "3 clicks out" || row.Standing != "counted" {
		t.Errorf("rear rebound: %+v", row)
	}
	if len(s.Changes) == 0 || !slices.ContainsFunc(s.Changes, func(c sheet.Change) bool { return strings.Contains(c.Title, "found moved") }) {
		t.Errorf("changes %+v; want a found one among them", s.Changes)
	}
	if !slices.ContainsFunc(s.History, func(r sheet.Row) bool {
		return strings.HasPrefix(r.Title, "Standing fall") || strings.HasPrefix(r.Title, "Slow fall")
	}) {
		t.Errorf("no fall in %+v", s.History)
	}
	if !slices.ContainsFunc(s.History, func(r sheet.Row) bool { return r.Title == "Fork oil" }) {
		t.Errorf("no fork oil in %+v", s.History)
	}
	for _, r := range slices.Concat(s.Measures, s.Symptoms) {
		if strings.HasSuffix(r.Title+r.Says, ".") {
			t.Errorf("the date follows a full stop: %+v", r)
		}
	}
}

func TestSheetKeepsNamesAndNotesBack(t *testing.T) {
	a := exampleAsk(t)
	text, err := json.Marshal(seasonSheet(t, SheetArgs{}))
	if err != nil {
		t.Fatal(err)
	}
	for id, p := range a.Book.People {
		if strings.Contains(string(text), p.Name) {
			t.Errorf("the sheet shows %s (%s) by name", p.Name, id)
		}
	}
	k := a.Book.Bikes[a.Book.BikeOrder[0]]
	for _, n := range k.Services {
		if n.Body.Note != "" && strings.Contains(string(text), n.Body.Note) {
			t.Errorf("the sheet shows the note %q", n.Body.Note)
		}
	}
}

func TestInitials(t *testing.T) {
	for name, want := range map[string]string{"Nell Harrow": "N. H.", "Ivo": "I.", "øyvind  å": "Ø. Å.", "": ""} {
		if got := initials(name); got != want {
			t.Errorf("initials(%q) = %q, want %q", name, got, want)
		}
	}
}

// The picture that the phone shows is painted and read by another library.
func TestSheetCodesAreReadByAnotherReader(t *testing.T) {
	const link = "https://book.example/r#"
	got, refused := View("sheet.codes", exampleAsk(t), json.RawMessage(`{"link":"`+link+`","names":true,"notes":true}`))
	if refused != nil {
		t.Fatal(refused)
	}
	codes := got.(SheetCodes).Codes
	var texts []string
	for _, c := range codes {
		text := scan(t, c)
		if text != c.Text || !strings.HasPrefix(text, link) {
			t.Fatalf("another reader reads %q, want %q", text, c.Text)
		}
		if c.Size > 97 {
			t.Errorf("a code of %d modules is too fine for a phone's screen", c.Size)
		}
		texts = append(texts, text)
	}
	t.Logf("%d codes of %d modules", len(codes), codes[0].Size)
	read, refused := readSheet(Ask{}, ReadSheetArgs{Texts: texts})
	if refused != nil {
		t.Fatal(refused)
	}
	if want := seasonSheet(t, SheetArgs{Names: true, Notes: true}); !reflect.DeepEqual(read.(ReadSheet).Sheet, &want) {
		t.Error("the sheet that was read is another one")
	}
}

// scan paints a code four pixels to the module, with its quiet zone, and reads it.
func scan(t *testing.T, c SheetCode) string {
	t.Helper()
	const scale, quiet = 4, 4
	side := (c.Size + 2*quiet) * scale
	img := image.NewGray(image.Rect(0, 0, side, side))
	for i := range img.Pix {
		img.Pix[i] = 255
	}
	for _, run := range regexp.MustCompile(`M(\d+) (\d+)h(\d+)v1h-\d+z`).FindAllStringSubmatch(c.Path, -1) {
		x, y, w := number(run[1]), number(run[2]), number(run[3])
		for dx := range w * scale {
			for dy := range scale {
				img.SetGray((x+quiet)*scale+dx, (y+quiet)*scale+dy, color.Gray{})
			}
		}
	}
	bitmap, err := gozxing.NewBinaryBitmapFromImage(img)
	if err != nil {
		t.Fatal(err)
	}
	result, err := qrcode.NewQRCodeReader().Decode(bitmap, map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_PURE_BARCODE: true})
	if err != nil {
		t.Fatal(err)
	}
	return result.GetText()
}

func number(digits string) int {
	n := 0
	for _, c := range digits {
		n = n*10 + int(c-'0')
	}
	return n
}

func TestReadSheetTellsWhatIsMissing(t *testing.T) {
	got, refused := View("sheet.codes", exampleAsk(t), json.RawMessage(`{"link":"https://book.example/r#"}`))
	if refused != nil {
		t.Fatal(refused)
	}
	codes := got.(SheetCodes).Codes
	read, refused := readSheet(Ask{}, ReadSheetArgs{Texts: []string{codes[1].Text}})
	if refused != nil {
		t.Fatal(refused)
	}
	if r := read.(ReadSheet); r.Sheet != nil || r.Of != len(codes) || !slices.Contains(r.Missing, 1) || slices.Contains(r.Missing, 2) {
		t.Errorf("%+v", r)
	}
	_, refused = readSheet(Ask{}, ReadSheetArgs{Texts: []string{"https://elsewhere.example/#menu"}})
	if len(refused) != 1 || refused[0].Says != "This code is not a setup sheet." {
		t.Errorf("refused %+v", refused)
	}
}

func TestCompareWithAnotherSheet(t *testing.T) {
	other := seasonSheet(t, SheetArgs{})
	i := slices.IndexFunc(other.Settings, func(x sheet.Setting) bool { return x.ID == "rear.rebound" })
	*other.Settings[i].N -= 2000
	args, err := json.Marshal(CompareSheetsArgs{Other: other})
	if err != nil {
		t.Fatal(err)
	}
	got, refused := View("sheet.compare", exampleAsk(t), args)
	if refused != nil {
		t.Fatal(refused)
	}
	if c := got.(ComparedSheets); c.Differ != 1 || !c.Pairs[i].Differs {
		t.Errorf("%d differ; want rear rebound alone: %+v", c.Differ, c.Pairs)
	}
}
