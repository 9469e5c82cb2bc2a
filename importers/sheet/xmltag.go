package sheet

import (
	"bytes"
	"fmt"
	"io"
	"unicode/utf8"
)

func (s *scanner) endTag() (token, error) {
	n, err := s.find(2, ">")
	if err != nil {
		return 0, err
	}
	name := bytes.TrimRight(s.buf[s.pos+2:s.pos+n], " \t\r\n")
	s.pos += n + 1
	return tokenClose, s.close(name)
}

// close ends the innermost element, which must have this name.
func (s *scanner) close(name []byte) error {
	if s.depth() == 0 {
		return xmlError("it has an end tag without a start tag")
	}
	at := s.starts[len(s.starts)-1]
	if !bytes.Equal(s.open[at:], name) {
		return xmlError(fmt.Sprintf("the tag <%.40s> is closed by </%.40s>", s.open[at:], name))
	}
	s.setName(name)
	s.spaces.leave(s.depth())
	s.open = s.open[:at]
	s.starts = s.starts[:len(s.starts)-1]
	return nil
}

// setName splits a name and looks its prefix up.
func (s *scanner) setName(name []byte) {
	prefix := name[:0]
	s.name, s.local = name, name
	if i := bytes.IndexByte(name, ':'); i >= 0 {
		prefix, s.local = name[:i], name[i+1:]
	}
	s.space = s.spaces.of(prefix)
	s.main = s.space == spaceMain
}

func (s *scanner) startTag() (token, error) {
	n, err := s.tagEnd()
	if err != nil {
		return 0, err
	}
	raw := s.buf[s.pos+1 : s.pos+n]
	s.pos += n + 1
	if len(raw) > 0 && raw[len(raw)-1] == '/' {
		s.shut = true
		raw = raw[:len(raw)-1]
	}
	name, rest := cutName(raw)
	if len(name) == 0 {
		return 0, xmlError("it holds a tag without a proper name")
	}
	if err := s.enter(name); err != nil {
		return 0, err
	}
	if err := s.attributes(rest); err != nil {
		return 0, err
	}
	for _, a := range s.attrs {
		if !s.spaces.declare(a, s.depth()) {
			return 0, xmlError("it declares too many namespaces")
		}
	}
	s.setName(name)
	return tokenStart, nil
}

func (s *scanner) enter(name []byte) error {
	switch {
	case s.depth() == 0 && s.rooted:
		return xmlError("it has a second root element")
	case s.depth() >= maxDepth:
		return xmlError("its elements are nested too deeply")
	}
	s.rooted = true
	s.starts = append(s.starts, len(s.open))
	s.open = append(s.open, name...)
	return nil
}

// tagEnd returns where the '>' of the start tag at pos stands; one inside a
// quoted value does not count.
func (s *scanner) tagEnd() (int, error) {
	var quote byte
	for i := 1; ; i++ {
		for s.pos+i >= s.end {
			if s.eof {
				return 0, io.ErrUnexpectedEOF
			}
			if err := s.fill(); err != nil {
				return 0, err
			}
		}
		switch c := s.buf[s.pos+i]; {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case c == '"' || c == '\'':
			quote = c
		case c == '>':
			return i, nil
		case c == '<':
			return 0, xmlError("it holds a < inside a tag")
		}
	}
}

// attributes reads the attributes of a start tag into attrs.
func (s *scanner) attributes(raw []byte) error {
	for {
		rest := trimBlank(raw)
		if len(rest) == 0 {
			return nil
		}
		if len(rest) == len(raw) {
			return xmlError("it has two attributes without a space between")
		}
		name, rest := cutName(rest)
		rest = trimBlank(rest)
		if len(name) == 0 || len(rest) == 0 || rest[0] != '=' {
			return xmlError("it has an attribute without a name or value")
		}
		rest = trimBlank(rest[1:])
		if len(rest) == 0 || rest[0] != '"' && rest[0] != '\'' {
			return xmlError(fmt.Sprintf("the value of the attribute %.40s is not quoted", name))
		}
		n := bytes.IndexByte(rest[1:], rest[0])
		if n < 0 {
			return xmlError(fmt.Sprintf("the value of the attribute %.40s has no end", name))
		}
		if err := s.attribute(name, rest[1:n+1]); err != nil {
			return err
		}
		raw = rest[n+2:]
	}
}

func (s *scanner) attribute(name, raw []byte) error {
	if bytes.IndexByte(raw, '<') >= 0 {
		return xmlError("it holds a < inside a tag")
	}
	if _, twice := s.attr(string(name)); twice {
		return xmlError(fmt.Sprintf("a tag has the attribute %.40s twice", name))
	}
	if len(s.attrs) >= maxAttributes {
		return xmlError("a tag has too many attributes")
	}
	value, err := s.expand(raw, true)
	if err != nil {
		return err
	}
	s.attrs = append(s.attrs, attribute{name: name, value: value})
	return nil
}

// trimBlank cuts the white space before the rest of a tag.
func trimBlank(p []byte) []byte {
	for len(p) > 0 && isBlank(p[0]) {
		p = p[1:]
	}
	return p
}

func isBlank(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' }

// cutName cuts a name, with at most one prefix, from the beginning of p; the
// name is empty when there is none.
func cutName(p []byte) (name, rest []byte) {
	colons, i := 0, 0
	for i < len(p) && isNameByte(p[i]) {
		if p[i] == ':' {
			colons++
		}
		i++
	}
	if i == 0 || i < len(p) && p[i] >= utf8.RuneSelf || !isNameStart(p[0]) {
		return nil, p
	}
	if colons > 1 || colons == 1 && !isPrefixed(p[:i]) {
		return nil, p
	}
	return p[:i], p[i:]
}

func isPrefixed(name []byte) bool {
	i := bytes.IndexByte(name, ':')
	return i > 0 && i+1 < len(name) && isNameStart(name[i+1])
}

func isNameStart(c byte) bool {
	return c == '_' || 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z'
}

func isNameByte(c byte) bool {
	return isNameStart(c) || '0' <= c && c <= '9' || c == '-' || c == '.' || c == ':'
}
