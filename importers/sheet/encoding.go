package sheet

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"unicode/utf16"
	"unicode/utf8"

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

// decode returns a text as UTF-8 without its mark. An encoding is never
// guessed: a text is UTF-8, or UTF-16 with the mark that says so.
func decode(data []byte, at finding.Origin) (string, *Refused) {
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
		return "", notUTF8(data, i, at)
	}
	if i := bytes.IndexByte(data, 0); i >= 0 {
		at.Row = lineOf(data, i)
		return "", damaged(CodeNulByte, at, "the text holds a zero byte in line %d", at.Row)
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
	return &Refused{
		Code: CodeNotUTF8, Origin: at,
		Summary: fmt.Sprintf("line %d is not UTF-8 text: byte %02X after %q", at.Row, data[i], before),
		Detail:  "The file was saved in an older encoding in which letters such as ä, é or ñ cannot be told apart with certainty, and a guess could change a part number.",
		Remedy:  "Save it again as UTF-8: in a spreadsheet program choose the file type \"CSV UTF-8\", in a text editor \"Save as\" with the encoding UTF-8. Or hand in the workbook as .xlsx.",
	}
}
