package screen

import (
	"fmt"
	"strings"

	"rsc.io/qr/coding"

	"plumbline/internal/book"
	"plumbline/internal/sheet"
)

// SheetCodesArgs asks for a sheet as codes to be scanned. Link is where a
// phone without the app finds it: the app's own address up to and with the #,
// after which the content stands, so that it is never sent to a server.
type SheetCodesArgs struct {
	SheetArgs
	Link string `json:"link"`
}

// SheetCode is one code on the screen: a square of Size modules each way, its
// dark ones as a path in module units, and what a camera reads from it.
type SheetCode struct {
	Text string `json:"text"`
	Size int    `json:"size"`
	Path string `json:"path"`
}

// SheetCodes are a sheet's codes, to be shown in turn.
type SheetCodes struct {
	Codes []SheetCode `json:"codes"`
}

// CodeArgs asks for any text as a code: a link to send by camera.
type CodeArgs struct {
	Text string `json:"text"`
}

var _ = view("code", func(_ Ask, args CodeArgs) (any, []book.Refusal) {
	c, err := qrOf(args.Text, "")
	if err != nil {
		return nil, []book.Refusal{{Field: "text", Says: "This does not fit a code.", Mend: "Copy it instead."}}
	}
	return c, nil
})

// partSize is how much of a sheet one code carries, in characters. A code of
// this size has about 80 modules each way, which a phone's camera reads from
// another phone's screen at arm's length (tried, no source).
const partSize = 700

func sheetCodes(a Ask, args SheetCodesArgs) (any, []book.Refusal) {
	s, refused := SheetOf(a, args.SheetArgs)
	if refused != nil {
		return nil, refused
	}
	parts, err := sheet.Encode(s, partSize)
	if err != nil {
		return nil, notRead(err)
	}
	out := SheetCodes{Codes: []SheetCode{}}
	for _, p := range parts {
		c, err := qrOf(args.Link, p)
		if err != nil {
			return nil, []book.Refusal{{Field: "link", Says: "This address does not fit a code.", Mend: "Open the app at a shorter address."}}
		}
		out.Codes = append(out.Codes, c)
	}
	return out, nil
}

// qrOf draws a link and a part as one QR code (ISO/IEC 18004), error
// correction L because a screen has no scratches: the link as bytes, the part
// in the alphanumeric mode that it is spelled for.
func qrOf(link, part string) (SheetCode, error) {
	text := []coding.Encoding{coding.String(link), coding.Alpha(part)}
	for v := coding.Version(coding.MinVersion); v <= coding.MaxVersion; v++ {
		plan, err := coding.NewPlan(v, coding.L, 0)
		if err != nil {
			return SheetCode{}, fmt.Errorf("plan code: %w", err)
		}
		var b coding.Bits
		for _, t := range text {
			t.Encode(&b, v)
		}
		if b.Bits() > plan.DataBytes*8 {
			continue
		}
		code, err := plan.Encode(text...)
		if err != nil {
			return SheetCode{}, fmt.Errorf("draw code: %w", err)
		}
		return SheetCode{Text: link + part, Size: code.Size, Path: dark(code)}, nil
	}
	return SheetCode{}, fmt.Errorf("draw code: %d characters do not fit", len(link)+len(part))
}

// dark is a path around a code's dark modules, row by row.
func dark(code *coding.Code) string {
	var path strings.Builder
	for y := range code.Size {
		for x := 0; x < code.Size; x++ {
			start := x
			for x < code.Size && code.Black(x, y) {
				x++
			}
			if x > start {
				fmt.Fprintf(&path, "M%d %dh%dv1h-%dz", start, y, x-start, x-start)
			}
		}
	}
	return path.String()
}

// ReadSheetArgs are the texts that were scanned or opened, oldest first, each
// with or without the link before its #.
type ReadSheetArgs struct {
	Texts []string `json:"texts"`
}

// ReadSheet is a scanned sheet, or how far it is scanned.
type ReadSheet struct {
	Sheet   *sheet.Sheet `json:"sheet,omitempty"`
	Of      int          `json:"of"`
	Missing []int        `json:"missing"`
}

func readSheet(_ Ask, args ReadSheetArgs) (any, []book.Refusal) {
	var parts []string
	for _, text := range args.Texts {
		_, part, linked := strings.Cut(text, "#")
		if !linked {
			part = text
		}
		parts = append(parts, part)
	}
	s, missing, err := sheet.Decode(parts)
	if err != nil {
		return nil, notRead(err)
	}
	last, err := sheet.ReadPart(parts[len(parts)-1])
	if err != nil {
		return nil, notRead(err)
	}
	return ReadSheet{Sheet: s, Of: last.N, Missing: append([]int{}, missing...)}, nil
}

func notRead(err error) []book.Refusal {
	says, mend, _ := strings.Cut(err.Error(), ": ")
	if mend != "" {
		mend = capital(mend) + "."
	}
	return []book.Refusal{{Field: "texts", Says: capital(says) + ".", Mend: mend}}
}

// CompareSheetsArgs lays a scanned or kept sheet beside the book's own.
type CompareSheetsArgs struct {
	Bike  book.BikeID `json:"bike"`
	Other sheet.Sheet `json:"other"`
}

// ComparedSheets are two sheets side by side: this book's and another.
type ComparedSheets struct {
	Mine   string       `json:"mine"`
	Theirs string       `json:"theirs"`
	Pairs  []sheet.Pair `json:"pairs"`
	Differ int          `json:"differ"`
}

func compareSheets(a Ask, args CompareSheetsArgs) (any, []book.Refusal) {
	mine, refused := SheetOf(a, SheetArgs{Bike: args.Bike})
	if refused != nil {
		return nil, refused
	}
	out := ComparedSheets{Mine: titleOf(mine), Theirs: titleOf(args.Other), Pairs: sheet.Compare(mine, args.Other)}
	for _, p := range out.Pairs {
		if p.Differs {
			out.Differ++
		}
	}
	return out, nil
}

func titleOf(s sheet.Sheet) string { return join(s.Bike.Name, s.Made) }
