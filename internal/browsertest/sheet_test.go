package browsertest

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"image"
	"image/draw"
	"image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"plumbline/internal/sheet"
)

// openSheet opens the example's setup sheet.
func openSheet(t *testing.T) *Phone {
	t.Helper()
	p := WithExample(t)
	p.OfflineReady()
	p.Go("/sheet")
	p.See("The line: Fresh oil, dry")
	return p
}

func TestSheetOffline(t *testing.T) {
	p := openSheet(t)
	p.RadioOff()
	p.Load("/sheet")
	p.See("N. H., 82 kg in kit")
	fit(t, p, "sheet")
	p.Tap("People's names")
	p.See("Nell Harrow, 82 kg in kit")
	p.Tap("Show as a code")
	p.See("the other phone reads all of them")
	p.Tap("Hold")
	p.Picture("sheet-code")
	p.Audit()
	p.Narrow()
	p.Wide()
}

// onScreen shows the first code, and holds it, on a screen as fine as phones' are.
func (p *Phone) onScreen() {
	p.t.Helper()
	p.do(chromedp.EmulateViewport(Width, Height, chromedp.EmulateScale(2.5), chromedp.EmulateMobile, chromedp.EmulateTouch, chromedp.EmulatePortrait))
	p.Tap("Show as a code")
	p.See("the other phone reads all of them")
	p.Tap("Hold")
}

// codesShown is how many codes the sheet has.
func (p *Phone) codesShown() int {
	p.t.Helper()
	return Ask[int](p, `Number(document.querySelector("svg.qr").getAttribute("aria-label").match(/of (\d+)/)[1])`)
}

// codeShot is the code that the screen shows.
func (p *Phone) codeShot() image.Image {
	p.t.Helper()
	shot, err := chromedp.Run(p.ctx, chromedp.Screenshot(chromedp.CSS("svg.qr")))
	if err != nil {
		p.t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(shot))
	if err != nil {
		p.t.Fatal(err)
	}
	return img
}

// codes reads the codes of the sheet off the screen with another library.
func (p *Phone) codes() []string {
	p.t.Helper()
	p.onScreen()
	var out []string
	for range p.codesShown() {
		bitmap, err := gozxing.NewBinaryBitmapFromImage(p.codeShot())
		if err != nil {
			p.t.Fatal(err)
		}
		text, err := qrcode.NewQRCodeReader().Decode(bitmap, map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_TRY_HARDER: true})
		if err != nil {
			p.t.Fatal(err)
		}
		out = append(out, text.GetText())
		p.Tap("Next")
	}
	return out
}

// Another phone, with no book, opens what its camera reads: one link, then the other.
func TestSheetOpensByAnyCamera(t *testing.T) {
	p := openSheet(t)
	links := p.codes()
	tuner := NewPhone(t, p.Server)
	for i, link := range links {
		path, ours := strings.CutPrefix(link, p.Server.URL)
		if !ours || !strings.HasPrefix(path, "/r#") {
			t.Fatalf("code %d reads %q", i, link)
		}
		tuner.Load("/phone")
		tuner.Load(path)
		if i < len(links)-1 {
			tuner.See(fmt.Sprintf("%d of %d codes read.", i+1, len(links)))
		}
	}
	tuner.See("The line: Fresh oil, dry")
	tuner.See("Sheets read on this phone")
	tuner.wait(`location.hash === ""`, "the sheet to leave the address")
	tuner.Picture("sheet-read")
	tuner.Audit()
	tuner.NoComplaints()
}

func TestScannerReadsASeries(t *testing.T) {
	p := openSheet(t)
	film := filepath.Join(t.TempDir(), "codes.mjpeg")
	p.film(film)
	tuner := NewPhone(t, p.Server, chromedp.Flag("use-fake-ui-for-media-stream", true), chromedp.Flag("use-fake-device-for-media-stream", true), chromedp.Flag("use-file-for-fake-video-capture", film))
	tuner.Load("/r")
	tuner.Ready()
	tuner.See("A rider shows a code")
	tuner.Tap("Scan a sheet")
	tuner.See("The line: Fresh oil, dry")
	tuner.SeeNot("Stop scanning")
	tuner.NoComplaints()
}

// film writes what a camera sees that is held before this phone's codes, one
// after the other, a second each.
func (p *Phone) film(name string) {
	p.t.Helper()
	p.onScreen()
	var out bytes.Buffer
	for range p.codesShown() {
		frame := image.NewRGBA(image.Rect(0, 0, 1280, 960))
		shot := p.codeShot()
		place := shot.Bounds().Add(image.Pt((1280-shot.Bounds().Dx())/2, 20))
		draw.Draw(frame, place, shot, image.Point{}, draw.Src)
		for range 30 {
			if err := jpeg.Encode(&out, frame, nil); err != nil {
				p.t.Fatal(err)
			}
		}
		p.Tap("Next")
	}
	if err := os.WriteFile(name, out.Bytes(), 0o600); err != nil {
		p.t.Fatal(err)
	}
}

func TestSheetBesideMine(t *testing.T) {
	p := openSheet(t)
	other := sheet.Sheet{Made: "1 May 2026 09:00", Bike: sheet.Bike{Name: "Other bike"}, Settings: []sheet.Setting{{ID: "rear.rebound", Name: "Rear rebound", At: "3 clicks out", Standing: "counted"}}}
	parts, err := sheet.Encode(other, 4000)
	if err != nil {
		t.Fatal(err)
	}
	p.Load("/r#" + parts[0])
	p.See("Other bike")
	p.Tap("Lay it beside mine")
	p.See("settings differ")
	p.See("3 clicks out")
	p.Picture("sheet-beside")
	p.Audit()
	p.Load("/phone")
	p.Load("/r#" + parts[0][:len(parts[0])-1])
	p.See("This sheet arrived damaged.")
	p.See("Scan its codes again.")
	p.NoComplaints()
}

// crowded is a sheet with every list and every text as long as they get.
func crowded() sheet.Sheet {
	long := strings.Repeat("a few words ", 9)[:100]
	s := sheet.Sheet{Made: "12 Sep 2026 14:05", Bike: sheet.Bike{Name: "Calder Heron 600", Class: long}, Rider: "N. H.", Stop: "Do not ride until it is straight. " + long, Line: long}
	for i := range 22 {
		s.Settings = append(s.Settings, sheet.Setting{ID: fmt.Sprint(i), Name: fmt.Sprintf("Adjuster with a long name %d", i), At: "10.25 turns in", Standing: "assumed", Drift: "2.5 turns out"})
	}
	row := sheet.Row{Title: "Something with a name", Says: long, When: "12 Sep 2026"}
	for range 8 {
		s.Changes = append(s.Changes, sheet.Change{Title: "Fork height in the clamps: 3 mm down, from 7 to 4 mm", When: "12 Sep 2026", Who: "somebody", Idea: "somebody else", Why: long, Verdict: "put it back"})
		s.Measures, s.History, s.Checks = append(s.Measures, row), append(s.History, row), append(s.Checks, row)
	}
	for range 5 {
		s.Symptoms, s.Causes = append(s.Symptoms, row), append(s.Causes, row)
	}
	return s
}

func TestSheetPrintsOnOnePage(t *testing.T) {
	p := openSheet(t)
	pages := regexp.MustCompile(`/Type\s*/Page[^s]`)
	papers := map[string][2]float64{"A4": {8.27, 11.69}, "Letter": {8.5, 11}} // inches
	onePage := func(what string) {
		for name, paper := range papers {
			pdf, err := chromedp.Call(p.ctx, page.PrintToPDF, page.PrintToPDFParams{PaperWidth: paper[0], PaperHeight: paper[1]})
			if err != nil {
				t.Fatal(err)
			}
			if dir := os.Getenv("PICTURES"); dir != "" {
				_ = os.WriteFile(filepath.Join(dir, what+"-"+name+".pdf"), pdf.Data, 0o600)
			}
			if n := len(pages.FindAll(pdf.Data, -1)); n != 1 {
				t.Errorf("%s on %s: %d pages, want 1", what, name, n)
			}
		}
	}
	onePage("season")
	parts, err := sheet.Encode(crowded(), 20_000)
	if err != nil {
		t.Fatal(err)
	}
	p.Load("/r#" + parts[0])
	p.See("Adjuster with a long name 21")
	onePage("crowded")
}

func TestSheetAsAPicture(t *testing.T) {
	p := openSheet(t)
	p.Run(`(() => { const was = URL.createObjectURL; URL.createObjectURL = (b) => { window.saved = b; return was(b); }; })()`)
	p.Tap("Picture")
	p.wait(`window.saved?.type === "image/png"`, "a picture")
	size := Ask[[]int](p, `createImageBitmap(window.saved).then((b) => [b.width, b.height])`)
	if size[0] != 1240 || size[1] != 1754 {
		t.Errorf("the picture is %v, want A4 at 150 dots", size)
	}
	dark := Ask[float64](p, `createImageBitmap(window.saved).then((b) => {
  const c = new OffscreenCanvas(b.width, b.height); const g = c.getContext("2d"); g.drawImage(b, 0, 0);
  const d = g.getImageData(0, 0, b.width, b.height).data; let n = 0; for (let i = 0; i < d.length; i += 4) n += d[i] < 128 ? 1 : 0; return n / (b.width * b.height); })`)
	if dark < 0.01 || dark > 0.2 {
		t.Errorf("%.3f of the picture is dark: that is no page of words", dark)
	}
	p.savePicture("sheet-picture")
	p.Tap("Data")
	p.wait(`window.saved?.type === "application/json"`, "data")
	p.NoComplaints()
}

// savePicture keeps the last saved picture for people to look at.
func (p *Phone) savePicture(name string) {
	p.t.Helper()
	dir := os.Getenv("PICTURES")
	if dir == "" {
		return
	}
	raw, err := base64.StdEncoding.DecodeString(Ask[string](p, `window.saved.arrayBuffer().then((b) => { let s = ""; for (const c of new Uint8Array(b)) s += String.fromCharCode(c); return btoa(s); })`))
	if err != nil {
		p.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, name+".png"), raw, 0o600); err != nil {
		p.t.Fatal(err)
	}
}
