package sheet

import (
	"bytes"
	"strconv"
	"unicode/utf8"
)

// space is a namespace that means something here.
type space uint8

const (
	spaceOther   space = iota
	spaceMain          // sheets, rows and cells of a workbook
	spaceOffice        // of OpenDocument, as the next ones
	spaceTable         //
	spaceText          //
	spaceStyle         //
	spaceCalcExt       // results that are errors
)

// spaceOf knows the namespaces of a workbook, in the transitional and the
// strict variant of ISO/IEC 29500 (part 4 and part 1, annex A), and those of
// OpenDocument (ISO/IEC 26300-1, annex on namespaces; from memory).
func spaceOf(name string) space {
	switch name {
	case "http://schemas.openxmlformats.org/spreadsheetml/2006/main", "http://purl.oclc.org/ooxml/spreadsheetml/main":
		return spaceMain
	case "urn:oasis:names:tc:opendocument:xmlns:office:1.0":
		return spaceOffice
	case "urn:oasis:names:tc:opendocument:xmlns:table:1.0":
		return spaceTable
	case "urn:oasis:names:tc:opendocument:xmlns:text:1.0":
		return spaceText
	case "urn:oasis:names:tc:opendocument:xmlns:style:1.0":
		return spaceStyle
	case "urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0":
		return spaceCalcExt
	}
	return spaceOther
}

// namespaces knows which prefixes stand for which namespace where. Only
// prefixes that were bound to a known one at least once are kept.
type namespaces struct{ bound []binding }

type binding struct {
	prefix string
	space  space
	depth  int
}

// maxBindings bounds the list, which is searched for every tag.
const maxBindings = 64

// declare takes note of an attribute that binds a prefix, and reports whether
// there was room.
func (n *namespaces) declare(a attribute, depth int) bool {
	rest, ok := bytes.CutPrefix(a.name, []byte("xmlns"))
	if !ok || len(rest) > 0 && rest[0] != ':' {
		return true
	}
	prefix := string(bytes.TrimPrefix(rest, []byte(":")))
	space := spaceOf(string(a.value))
	if space != spaceOther || n.of([]byte(prefix)) != spaceOther {
		n.bound = append(n.bound, binding{prefix: prefix, space: space, depth: depth})
	}
	return len(n.bound) <= maxBindings
}

// leave forgets what the element at this depth declared.
func (n *namespaces) leave(depth int) {
	for len(n.bound) > 0 && n.bound[len(n.bound)-1].depth >= depth {
		n.bound = n.bound[:len(n.bound)-1]
	}
}

// of returns the namespace of a prefix.
func (n *namespaces) of(prefix []byte) space {
	for i := len(n.bound) - 1; i >= 0; i-- {
		if n.bound[i].prefix == string(prefix) {
			return n.bound[i].space
		}
	}
	return spaceOther
}

// charClass says what a run of characters holds beyond plain ASCII.
type charClass uint8

const (
	hasEntity charClass = 1 << iota
	hasReturn
)

// scanChars checks that p is UTF-8 and holds only characters XML allows.
func scanChars(p []byte) (charClass, error) {
	var class charClass
	for i := 0; i < len(p); i++ {
		c := p[i]
		switch {
		case c >= utf8.RuneSelf:
			return wideChars(p, i, class)
		case c == '&':
			class |= hasEntity
		case c == '\r':
			class |= hasReturn
		case c < ' ' && c != '\t' && c != '\n':
			return 0, xmlError("it holds a control character")
		}
	}
	return class, nil
}

// wideChars is scanChars from the first byte that is not ASCII on.
func wideChars(p []byte, i int, class charClass) (charClass, error) {
	for i < len(p) {
		r, n := utf8.DecodeRune(p[i:])
		if r == utf8.RuneError && n == 1 {
			return 0, errEncoding
		}
		if !isXMLChar(r) {
			return 0, xmlError("it holds a control character")
		}
		switch r {
		case '&':
			class |= hasEntity
		case '\r':
			class |= hasReturn
		}
		i += n
	}
	return class, nil
}

// isXMLChar is production 2 of XML 1.0.
func isXMLChar(r rune) bool {
	return r == '\t' || r == '\n' || r == '\r' || r >= ' ' && r <= 0xD7FF ||
		r >= 0xE000 && r <= 0xFFFD || r >= 0x10000 && r <= 0x10FFFF
}

// expand checks raw and returns it with line ends made one line feed and, if
// asked, references resolved.
func (s *scanner) expand(raw []byte, entities bool) ([]byte, error) {
	class, err := scanChars(raw)
	if err != nil {
		return nil, err
	}
	if class&hasReturn == 0 && (!entities || class&hasEntity == 0) {
		return raw, nil
	}
	from := len(s.scratch)
	for i := 0; i < len(raw); i++ {
		switch c := raw[i]; {
		case c == '\r':
			if i+1 == len(raw) || raw[i+1] != '\n' {
				s.scratch = append(s.scratch, '\n')
			}
		case c == '&' && entities:
			n := bytes.IndexByte(raw[i:], ';')
			r, ok := reference(raw[i+1 : max(i+n, i+1)])
			if !ok {
				return nil, xmlError("it refers to an unknown entity")
			}
			s.scratch = utf8.AppendRune(s.scratch, r)
			i += n
		default:
			s.scratch = append(s.scratch, c)
		}
	}
	return s.scratch[from:len(s.scratch):len(s.scratch)], nil
}

// reference returns the character of a reference without its & and ;.
func reference(name []byte) (rune, bool) {
	switch string(name) {
	case "amp":
		return '&', true
	case "lt":
		return '<', true
	case "gt":
		return '>', true
	case "quot":
		return '"', true
	case "apos":
		return '\'', true
	}
	digits, ok := bytes.CutPrefix(name, []byte("#"))
	base := 10
	if hex, isHex := bytes.CutPrefix(digits, []byte("x")); isHex {
		digits, base = hex, 16
	}
	if !ok || len(digits) == 0 || digits[0] == '+' || digits[0] == '-' || len(digits) > 10 {
		return 0, false
	}
	n, err := strconv.ParseUint(string(digits), base, 32)
	if err != nil || n > utf8.MaxRune || !isXMLChar(rune(n)) {
		return 0, false
	}
	return rune(n), true
}

// unescape resolves the _xHHHH_ by which workbooks write characters that XML
// has no place for (ISO/IEC 29500-1, 22.9.2.19).
func unescape(p []byte) []byte {
	if !bytes.Contains(p, []byte("_x")) {
		return p
	}
	var out []byte
	for i := 0; i < len(p); i++ {
		if r, ok := escaped(p[i:]); ok {
			out = utf8.AppendRune(out, r)
			i += len("_xHHHH_") - 1
			continue
		}
		out = append(out, p[i])
	}
	return out
}

func escaped(p []byte) (rune, bool) {
	if len(p) < 7 || p[0] != '_' || p[1] != 'x' || p[6] != '_' {
		return 0, false
	}
	n, err := strconv.ParseUint(string(p[2:6]), 16, 16)
	if err != nil || n == 0 || n >= 0xD800 && n < 0xE000 || n >= 0xFFFE {
		return 0, false
	}
	return rune(n), true
}
