package sheet

import (
	"bytes"
	"compress/flate"
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"strconv"
	"strings"
)

//go:embed dictionary1.txt
var dictionary1 []byte

const (
	version  = "1"
	digits   = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ$*+-:"
	base     = len(digits)
	mostJSON = 64 << 10 // bytes; a sheet is a page, so more is an attack
	// MostParts is the largest number of parts that a sheet is cut into.
	MostParts = 40
)

// What is wrong with a code, as the one who scanned it is told.
var (
	ErrNotASheet = errors.New("this code is not a setup sheet")
	ErrNewer     = errors.New("this sheet was made by a newer app: update yours")
	ErrDamaged   = errors.New("this sheet arrived damaged: scan its codes again")
	ErrTooLong   = errors.New("this sheet is too long for codes: show fewer things on it")
)

// Encode returns a sheet's code in parts of at most most characters each, in
// their order. It fails with ErrTooLong when that would be more than MostParts.
func Encode(s Sheet, most int) ([]string, error) {
	text, err := json.Marshal(s)
	if err != nil {
		return nil, fmt.Errorf("encode sheet: %w", err)
	}
	if len(text) > mostJSON {
		return nil, ErrTooLong
	}
	var packed bytes.Buffer
	w, err := flate.NewWriterDict(&packed, flate.BestCompression, dictionary1)
	if err != nil {
		return nil, fmt.Errorf("encode sheet: %w", err)
	}
	_, _ = w.Write(text) // a bytes.Buffer takes everything
	if err := w.Close(); err != nil {
		return nil, fmt.Errorf("encode sheet: %w", err)
	}
	return cut(spell(packed.Bytes()), fmt.Sprintf("%08X", crc32.ChecksumIEEE(text)), most)
}

// cut splits a spelled code into parts that are as even as can be.
func cut(code, tag string, most int) ([]string, error) {
	head := len(version) + len(tag) + len("...NN.NN")
	room := most - head
	if room < 1 || len(code) > room*MostParts {
		return nil, ErrTooLong
	}
	n := (len(code) + room - 1) / room
	each := (len(code) + n - 1) / n
	parts := make([]string, n)
	for i := range parts {
		piece := code[min(i*each, len(code)):min((i+1)*each, len(code))]
		parts[i] = fmt.Sprintf("%s.%s.%d.%d.%s", version, tag, i+1, n, piece)
	}
	return parts, nil
}

// Part is one scanned part of a sheet.
type Part struct {
	Tag  string `json:"tag"`
	I    int    `json:"i"` // from 1
	N    int    `json:"n"`
	Text string `json:"text"` // as scanned
	code string
}

// ReadPart reads one part. It fails with ErrNotASheet or ErrNewer.
func ReadPart(text string) (Part, error) {
	text = strings.TrimSpace(text)
	fields := strings.SplitN(text, ".", 5)
	if len(fields) != 5 || len(fields[1]) != 8 {
		return Part{}, ErrNotASheet
	}
	v, err := strconv.ParseUint(fields[0], 10, 8)
	switch {
	case err != nil:
		return Part{}, ErrNotASheet
	case v > 1:
		return Part{}, ErrNewer
	}
	i, err1 := strconv.Atoi(fields[2])
	n, err2 := strconv.Atoi(fields[3])
	if v != 1 || err1 != nil || err2 != nil || i < 1 || i > n || n > MostParts {
		return Part{}, ErrNotASheet
	}
	return Part{Tag: fields[1], I: i, N: n, Text: text, code: fields[4]}, nil
}

// Decode puts the parts of one sheet together, in whatever order they were
// scanned and however often. Missing lists the parts, from 1, that are still
// to be scanned; then the sheet is nil and so is the error. Parts of another
// sheet than the last are left out: who points the camera at a new sheet wants
// that one.
func Decode(texts []string) (s *Sheet, missing []int, err error) {
	if len(texts) == 0 {
		return nil, nil, ErrNotASheet
	}
	last, err := ReadPart(texts[len(texts)-1])
	if err != nil {
		return nil, nil, err
	}
	have := make([]*Part, last.N)
	for _, text := range texts {
		p, err := ReadPart(text)
		if err == nil && p.Tag == last.Tag && p.N == last.N {
			have[p.I-1] = &p
		}
	}
	var code strings.Builder
	for i, p := range have {
		if p == nil {
			missing = append(missing, i+1)
			continue
		}
		code.WriteString(p.code)
	}
	if missing != nil {
		return nil, missing, nil
	}
	s, err = unpack(code.String(), last.Tag)
	return s, nil, err
}

func unpack(code, tag string) (*Sheet, error) {
	packed, ok := read(code)
	if !ok {
		return nil, ErrDamaged
	}
	text, err := io.ReadAll(io.LimitReader(flate.NewReaderDict(bytes.NewReader(packed), dictionary1), mostJSON+1))
	if err != nil || len(text) > mostJSON || fmt.Sprintf("%08X", crc32.ChecksumIEEE(text)) != tag {
		return nil, ErrDamaged
	}
	var s Sheet
	if err := json.Unmarshal(text, &s); err != nil {
		return nil, ErrDamaged
	}
	return &s, nil
}

// spell writes bytes in base 41, see the package's comment.
func spell(b []byte) string {
	var out strings.Builder
	for ; len(b) >= 2; b = b[2:] {
		writeDigits(&out, int(b[0])<<8|int(b[1]), 3)
	}
	if len(b) == 1 {
		writeDigits(&out, int(b[0]), 2)
	}
	return out.String()
}

func writeDigits(out *strings.Builder, n, many int) {
	for range many {
		out.WriteByte(digits[n%base])
		n /= base
	}
}

// read undoes spell, and reports whether the text is one that spell writes.
func read(text string) ([]byte, bool) {
	var out []byte
	for ; len(text) >= 3; text = text[3:] {
		n, ok := readDigits(text[:3])
		if !ok || n > 0xffff {
			return nil, false
		}
		out = append(out, byte(n>>8), byte(n))
	}
	if text == "" {
		return out, true
	}
	n, ok := readDigits(text)
	if !ok || len(text) != 2 || n > 0xff {
		return nil, false
	}
	return append(out, byte(n)), true
}

func readDigits(text string) (n int, ok bool) {
	for i := len(text) - 1; i >= 0; i-- {
		d := strings.IndexByte(digits, text[i])
		if d < 0 {
			return 0, false
		}
		n = n*base + d
	}
	return n, true
}
