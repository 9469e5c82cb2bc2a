package web

import (
	"strings"
	"unicode"
)

// literal is a string, or a piece of a template string, in a module.
type literal struct {
	text string
	// call is the function whose argument it is, arg its place from 0; "" and 0
	// outside of calls. field is the key of the object it is a value of.
	call  string
	arg   int
	field string
	// compared is set where it is only compared with something, joined where
	// something is added to its end.
	compared, joined bool
}

// frame is an open bracket of a module.
type frame struct {
	bracket byte
	call    string
	arg     int
	field   string
}

// literals reads the strings of a module: enough of the language for our own
// style, comments and patterns included.
func literals(source string) []literal {
	s := scanner{source: source}
	s.run(0)
	return s.found
}

type scanner struct {
	source string
	at     int
	stack  []frame
	found  []literal
}

// run reads until the bracket that closes a ${ of a template, or the end.
func (s *scanner) run(depth int) {
	for s.at < len(s.source) {
		rest := s.source[s.at:]
		switch c := rest[0]; {
		case strings.HasPrefix(rest, "//"):
			s.skip("\n")
		case strings.HasPrefix(rest, "/*"):
			s.skip("*/")
		case c == '/' && s.patternMayBegin():
			s.pattern()
		case c == '"' || c == '\'':
			s.quoted(c)
		case c == '`':
			s.template()
		case strings.IndexByte("([{", c) >= 0:
			s.stack = append(s.stack, frame{bracket: c, call: s.nameBefore()})
			s.at++
		case strings.IndexByte(")]}", c) >= 0:
			s.at++
			if len(s.stack) == depth {
				return
			}
			s.stack = s.stack[:len(s.stack)-1]
		default:
			s.mark(c)
			s.at++
		}
	}
}

// mark notes what counts arguments and names fields.
func (s *scanner) mark(c byte) {
	if len(s.stack) == 0 {
		return
	}
	top := &s.stack[len(s.stack)-1]
	switch c {
	case ',':
		top.arg++
		top.field = ""
	case ':':
		if top.bracket == '{' && top.field == "" {
			top.field = s.nameBefore()
		}
	}
}

func (s *scanner) skip(end string) {
	if n := strings.Index(s.source[s.at:], end); n >= 0 {
		s.at += n + len(end)
		return
	}
	s.at = len(s.source)
}

// before is the code before the place, without white space at its end.
func (s *scanner) before() string { return strings.TrimRightFunc(s.source[:s.at], unicode.IsSpace) }

// nameBefore is the name, or the quoted name, that ends before the place.
func (s *scanner) nameBefore() string {
	b := strings.TrimSuffix(s.before(), `"`)
	n := strings.LastIndexFunc(b, func(r rune) bool {
		return r != '_' && r != '$' && r != '-' && !unicode.IsLetter(r) && !unicode.IsDigit(r)
	})
	return b[n+1:]
}

func (s *scanner) patternMayBegin() bool {
	b := s.before()
	return b == "" || strings.IndexByte("(,=:[!&|?{};", b[len(b)-1]) >= 0
}

func (s *scanner) pattern() {
	set := false
	for s.at++; s.at < len(s.source); s.at++ {
		switch s.source[s.at] {
		case '\\':
			s.at++
		case '[':
			set = true
		case ']':
			set = false
		case '/':
			if !set {
				s.at++
				return
			}
		}
	}
}

func (s *scanner) quoted(quote byte) {
	start := s.at
	for s.at++; s.at < len(s.source) && s.source[s.at] != quote; s.at++ {
		if s.source[s.at] == '\\' {
			s.at++
		}
	}
	s.at++
	s.note(s.source[start+1:s.at-1], start)
}

func (s *scanner) template() {
	open := s.at
	s.at++
	start := s.at
	for s.at < len(s.source) && s.source[s.at] != '`' {
		switch {
		case s.source[s.at] == '\\':
			s.at += 2
		case strings.HasPrefix(s.source[s.at:], "${"):
			s.note(s.source[start:s.at], open)
			s.at += 2
			s.run(len(s.stack))
			start = s.at
		default:
			s.at++
		}
	}
	text := s.source[start:s.at]
	s.at++
	s.note(text, open)
}

// note adds a literal that began at a place.
func (s *scanner) note(text string, start int) {
	l := literal{text: text}
	before := strings.TrimRightFunc(s.source[:start], unicode.IsSpace)
	after := strings.TrimLeftFunc(s.source[min(s.at, len(s.source)):], unicode.IsSpace)
	l.compared = strings.HasSuffix(before, "==") || strings.HasPrefix(after, "==")
	l.joined = strings.HasPrefix(after, "+")
	for i := len(s.stack) - 1; i >= 0; i-- {
		f := s.stack[i]
		if f.bracket == '{' && l.field == "" {
			l.field = f.field
		}
		if f.bracket == '(' {
			if f.call == "" { // only grouped
				continue
			}
			l.call, l.arg = f.call, f.arg
			break
		}
	}
	s.found = append(s.found, l)
}
