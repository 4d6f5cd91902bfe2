package entry

import "bytes"

// isCompact reports whether b is one JSON value (RFC 8259) without white space
// and no deeper than maxDepth.
func isCompact(b []byte) bool {
	end := skipValue(b, 0, 0)
	return end == len(b) && end > 0
}

// skipValue returns where the value that begins at i ends, or -1 where there is
// none.
func skipValue(b []byte, i, depth int) int {
	if i < 0 || i >= len(b) || depth > maxDepth {
		return -1
	}
	switch c := b[i]; {
	case c == '"':
		return skipString(b, i)
	case c == '{':
		return skipAll(b, i, '}', func(i int) int {
			if i = skipString(b, i); i < 0 || i >= len(b) || b[i] != ':' {
				return -1
			}
			return skipValue(b, i+1, depth+1)
		})
	case c == '[':
		return skipAll(b, i, ']', func(i int) int { return skipValue(b, i, depth+1) })
	case c == '-' || c >= '0' && c <= '9':
		return skipNumber(b, i)
	}
	for _, word := range []string{"true", "false", "null"} {
		if end := i + len(word); end <= len(b) && string(b[i:end]) == word {
			return end
		}
	}
	return -1
}

// skipAll skips what stands between brackets, parted by commas.
func skipAll(b []byte, i int, end byte, one func(int) int) int {
	if i++; i < len(b) && b[i] == end {
		return i + 1
	}
	for {
		if i = one(i); i < 0 || i >= len(b) {
			return -1
		}
		if b[i] == end {
			return i + 1
		}
		if b[i] != ',' {
			return -1
		}
		i++
	}
}

func skipString(b []byte, i int) int {
	if i < 0 || i >= len(b) || b[i] != '"' {
		return -1
	}
	for i++; i < len(b); i++ {
		switch c := b[i]; {
		case c == '"':
			return i + 1
		case c < ' ':
			return -1
		case c == '\\':
			if i = skipEscape(b, i+1); i < 0 {
				return -1
			}
		}
	}
	return -1
}

// skipEscape returns where what follows a backslash has its last byte.
func skipEscape(b []byte, i int) int {
	switch {
	case i >= len(b):
		return -1
	case bytes.IndexByte([]byte(`"\/bfnrt`), b[i]) >= 0:
		return i
	case b[i] != 'u' || i+4 >= len(b):
		return -1
	}
	for _, c := range b[i+1 : i+5] {
		if !isHex(c | 0x20) {
			return -1
		}
	}
	return i + 4
}

func skipNumber(b []byte, i int) int {
	digits := func() bool {
		from := i
		for i < len(b) && b[i] >= '0' && b[i] <= '9' {
			i++
		}
		return i > from
	}
	at := func(any string) bool {
		if i >= len(b) {
			return false
		}
		for _, c := range []byte(any) {
			if b[i] == c {
				i++
				return true
			}
		}
		return false
	}
	at("-")
	if !at("0") && !digits() {
		return -1
	}
	if at(".") && !digits() {
		return -1
	}
	if at("eE") {
		at("+-")
		if !digits() {
			return -1
		}
	}
	return i
}
