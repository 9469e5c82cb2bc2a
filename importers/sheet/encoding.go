package sheet

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"

	"lanewright/planner/finding"
)

// Codes of refusals about the encoding of a text.
const (
	CodeNotUTF8  = "sheet.not-utf-8"
	CodeBadUTF16 = "sheet.bad-utf-16"
	CodeNulByte  = "sheet.nul-byte"
)

// Marks at the beginning of a text that name its encoding.
const (
	utf8Mark     = "\xef\xbb\xbf"
	utf16LEMark  = "\xff\xfe"
	utf16BEMark  = "\xfe\xff"
	endOfFileDOS = "\x1a"
)

// hasWideMark reports whether a text begins with a UTF-16 mark.
func hasWideMark(data []byte) bool {
	return bytes.HasPrefix(data, []byte(utf16LEMark)) || bytes.HasPrefix(data, []byte(utf16BEMark))
}

// Form says how delimited texts are written, where somebody has said so; its
// zero value leaves that to the texts.
type Form struct {
	// Encoding is a name of Encodings for texts that are not UTF-8.
	Encoding string
	// Delimiter parts the fields of a record; 0 takes the most constant one.
	Delimiter byte
}

// encodings are the older encodings of one byte for a character that
// spreadsheet programs write, by their registered names.
var encodings = []struct {
	name string
	page *charmap.Charmap
}{
	{"windows-1252", charmap.Windows1252},
	{"windows-1250", charmap.Windows1250},
	{"iso-8859-15", charmap.ISO8859_15},
	{"macintosh", charmap.Macintosh},
	{"ibm850", charmap.CodePage850},
}

// Encodings names the encodings that a text may be said to have.
func Encodings() []string {
	names := make([]string, len(encodings))
	for i, e := range encodings {
		names[i] = e.name
	}
	return names
}

// Preview is what a line of a text looks like in one encoding.
type Preview struct{ Encoding, Line string }

// Previews shows the first line that is not UTF-8 in each encoding in which
// all of the text has a meaning; nothing where the text is UTF-8.
func Previews(data []byte) []Preview {
	i := firstInvalid(data)
	if i < 0 {
		return nil
	}
	start := bytes.LastIndexByte(data[:i], '\n') + 1
	line, _, _ := bytes.Cut(data[start:], []byte("\n"))
	var out []Preview
	for _, e := range encodings {
		if text, ok := transcode(bytes.TrimRight(line, "\r"), e.name); ok {
			if _, whole := transcode(data, e.name); whole {
				out = append(out, Preview{e.name, string(text[:min(len(text), 120)])})
			}
		}
	}
	return out
}

// transcode reads a text in an encoding; ok is false where a byte means
// nothing in it or nobody knows the encoding.
func transcode(data []byte, encoding string) (text []byte, ok bool) {
	for _, e := range encodings {
		if e.name != encoding {
			continue
		}
		out := make([]byte, 0, len(data)+len(data)/16)
		for _, b := range data {
			r := e.page.DecodeByte(b)
			if r == utf8.RuneError || r >= 0x80 && r < 0xa0 {
				return nil, false
			}
			out = utf8.AppendRune(out, r)
		}
		return out, true
	}
	return nil, false
}

// decode returns a text as UTF-8 without its mark. An encoding is never
// guessed: a text is UTF-8, or UTF-16 with the mark that says so, or what
// somebody said it is.
func decode(data []byte, encoding string, at finding.Origin) (string, *Refused) {
	if hasWideMark(data) {
		wide, ok := decodeUTF16(data)
		if !ok {
			return "", badUTF16(at)
		}
		data = wide
	}
	data = bytes.TrimPrefix(data, []byte(utf8Mark))
	data = bytes.TrimSuffix(data, []byte(endOfFileDOS))
	if i := firstInvalid(data); i >= 0 {
		text, ok := transcode(data, encoding)
		if !ok {
			return "", notUTF8(data, i, at)
		}
		data = text
	}
	if i := bytes.IndexByte(data, 0); i >= 0 {
		at.Row = lineOf(data, i)
		return "", zeroByte(at)
	}
	return string(data), nil
}

// decodeUTF16 decodes a text with its mark; half a character, half a pair or
// a lone half of a pair is not accepted.
func decodeUTF16(data []byte) ([]byte, bool) {
	if len(data)%2 != 0 {
		return nil, false
	}
	var order binary.ByteOrder = binary.LittleEndian
	if bytes.HasPrefix(data, []byte(utf16BEMark)) {
		order = binary.BigEndian
	}
	out := make([]byte, 0, len(data))
	for i := 2; i < len(data); i += 2 {
		r := rune(order.Uint16(data[i:]))
		if utf16.IsSurrogate(r) {
			if i+4 > len(data) {
				return nil, false
			}
			r = utf16.DecodeRune(r, rune(order.Uint16(data[i+2:])))
			if r == utf8.RuneError {
				return nil, false
			}
			i += 2
		}
		out = utf8.AppendRune(out, r)
	}
	return out, true
}

// firstInvalid returns where data stops being UTF-8, or -1.
func firstInvalid(data []byte) int {
	if utf8.Valid(data) {
		return -1
	}
	i := 0
	for i < len(data) {
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return -1
}

// lineOf returns the number of the line that byte i stands in, from 1.
func lineOf(data []byte, i int) int { return 1 + bytes.Count(data[:i], []byte("\n")) }

// around is the part of a line, at most sixty characters, from shortly before
// its first letter that is not ASCII.
func around(line string) string {
	at := strings.IndexFunc(line, func(r rune) bool { return r >= utf8.RuneSelf })
	runes := []rune(line[max(0, strings.LastIndexAny(line[:max(at, 0)], ",;\t|")+1):])
	return fmt.Sprintf("%q", string(runes[:min(len(runes), 60)]))
}

func zeroByte(at finding.Origin) *Refused {
	return damaged(CodeNulByte, at, "the text holds a zero byte in line %d", at.Row)
}

func unmarkedUTF16(at finding.Origin) *Refused {
	return &Refused{
		Code: CodeNulByte, Origin: at,
		Summary: "every other byte is zero: the text seems to be UTF-16 without the mark that says so",
		Detail:  "An encoding is never guessed, for a wrong guess would change every code.",
		Remedy:  "Save the file as UTF-8 (file type \"CSV UTF-8\"), or hand in the workbook as .xlsx.",
	}
}

func badUTF16(at finding.Origin) *Refused {
	return damaged(CodeBadUTF16, at, "the text begins as UTF-16 but breaks off inside a character")
}

func notUTF8(data []byte, i int, at finding.Origin) *Refused {
	at.Row = lineOf(data, i)
	start := bytes.LastIndexByte(data[:i], '\n') + 1
	before := data[max(start, i-20):i]
	for len(before) > 0 && !utf8.RuneStart(before[0]) {
		before = before[1:]
	}
	var shown []string
	for _, p := range Previews(data) {
		shown = append(shown, p.Encoding+": "+around(p.Line))
	}
	detail := "The file was saved in an older encoding in which letters such as ä, é or ñ cannot be told apart with certainty, and a guess could change a part number."
	if len(shown) > 0 {
		detail += " The line would read in " + strings.Join(shown, "; in ") + "."
	}
	return &Refused{
		Code: CodeNotUTF8, Origin: at,
		Summary: fmt.Sprintf("line %d is not UTF-8 text: byte %02X after %q", at.Row, data[i], before),
		Detail:  detail,
		Remedy:  "Say which it is: lanewright map FILE --encoding NAME writes a mapping that remembers it. Or save the file as UTF-8 (file type \"CSV UTF-8\"), or hand in the workbook as .xlsx.",
	}
}
