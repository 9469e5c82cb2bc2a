package sheet

import (
	"bytes"
	"errors"
	"io"
)

// token is what scanner.next found.
type token int

const (
	tokenEnd   token = iota // the document is complete
	tokenStart              // a start tag; name and attributes are set
	tokenClose              // an end tag; name is set
	tokenText               // text or CDATA; text is set
)

// xmlError says what is wrong with an XML text.
type xmlError string

func (e xmlError) Error() string { return string(e) }

// Errors of the scanner that have a refusal of their own.
var (
	errDoctype  = errors.New("it has a document type declaration, which no workbook needs")
	errEncoding = errors.New("it is not written in UTF-8")
	errTooLong  = errors.New("it holds a tag or text of unreasonable length")
)

// Bounds of one XML text; far above what any spreadsheet program writes.
const (
	maxDepth      = 200
	maxAttributes = 256
	maxToken      = 4 << 20
)

// scanner reads an XML text strictly, from its first to its last byte, in
// constant memory. It accepts what XML 1.0 (5th edition) calls well formed,
// in UTF-8, with ASCII names, and without a document type declaration: so
// there are no entities but the five predefined ones. Everything else is an
// error. Its slices are valid until the next call.
type scanner struct {
	r        io.Reader
	buf      []byte
	pos, end int
	eof      bool

	name  []byte // as written, with prefix
	local []byte // without prefix
	space space  // of the name
	main  bool   // it is the main namespace
	attrs []attribute
	text  []byte

	open     []byte // names of the open elements, one after the other
	starts   []int  // where each begins in open
	spaces   namespaces
	shut     bool // the last start tag closed itself
	rooted   bool // the root element has begun
	prologue bool // nothing but a byte order mark has been read
	scratch  []byte
}

// attribute is one attribute of a start tag.
type attribute struct{ name, value []byte }

// newScanner reads a text of about size bytes: most parts of a workbook are far
// shorter than the buffer that reads a sheet fast.
func newScanner(r io.Reader, size uint64) *scanner {
	buffer := 4 << 10
	for uint64(buffer) < size && buffer < 64<<10 {
		buffer *= 2
	}
	return &scanner{r: r, buf: make([]byte, buffer), prologue: true}
}

// depth returns how many elements are open.
func (s *scanner) depth() int { return len(s.starts) }

// attr returns the value of the attribute with this name as written.
func (s *scanner) attr(name string) ([]byte, bool) {
	for i := range s.attrs {
		if string(s.attrs[i].name) == name {
			return s.attrs[i].value, true
		}
	}
	return nil, false
}

// attrOf returns the attribute with this local name in a namespace of
// OpenDocument, empty when there is none.
func (s *scanner) attrOf(in space, local string) string {
	for i := range s.attrs {
		prefix, name, ok := bytes.Cut(s.attrs[i].name, []byte(":"))
		if ok && string(name) == local && s.spaces.of(prefix) == in {
			return string(s.attrs[i].value)
		}
	}
	return ""
}

// in reports whether the current tag is this element of a namespace.
func (s *scanner) in(space space, local string) bool {
	return s.space == space && string(s.local) == local
}

// is reports whether the current tag is this element of the main namespace.
func (s *scanner) is(local string) bool { return s.main && string(s.local) == local }

// fill reads more behind what is still needed, from pos on.
func (s *scanner) fill() error {
	if s.eof {
		return io.ErrUnexpectedEOF
	}
	if s.pos > 0 {
		copy(s.buf, s.buf[s.pos:s.end])
		s.end -= s.pos
		s.pos = 0
	}
	if s.end == len(s.buf) {
		if len(s.buf) >= maxToken {
			return errTooLong
		}
		s.buf = append(s.buf, make([]byte, len(s.buf))...)
	}
	n, err := s.r.Read(s.buf[s.end:])
	s.end += n
	if err == io.EOF {
		s.eof = true
		return nil
	}
	return err
}

// find returns where stop first stands from offset from behind pos, reading
// on as far as needed.
func (s *scanner) find(from int, stop string) (int, error) {
	for {
		if i := bytes.Index(s.buf[min(s.pos+from, s.end):s.end], []byte(stop)); i >= 0 {
			return from + i, nil
		}
		from = max(from, s.end-s.pos-len(stop)+1)
		if s.eof {
			return 0, io.ErrUnexpectedEOF
		}
		if err := s.fill(); err != nil {
			return 0, err
		}
	}
}

// ahead makes n bytes available from pos on, if the text has them.
func (s *scanner) ahead(n int) ([]byte, error) {
	for s.end-s.pos < n && !s.eof {
		if err := s.fill(); err != nil {
			return nil, err
		}
	}
	return s.buf[s.pos:min(s.end, s.pos+n)], nil
}

// next reads one token. After tokenEnd the text is read to its last byte.
func (s *scanner) next() (token, error) {
	if s.shut {
		s.shut = false
		return tokenClose, s.close(s.name)
	}
	s.scratch, s.attrs = s.scratch[:0], s.attrs[:0]
	for {
		head, err := s.ahead(9)
		if err != nil {
			return 0, err
		}
		first := s.prologue
		s.prologue = false
		switch {
		case len(head) == 0:
			return tokenEnd, s.complete()
		case first && startsWide(head):
			return 0, errEncoding
		case first && bytes.HasPrefix(head, []byte(utf8Mark)):
			s.pos += len(utf8Mark)
			s.prologue = true
		case head[0] != '<':
			if t, err := s.readText(); t != tokenEnd || err != nil {
				return t, err
			}
		case bytes.HasPrefix(head, []byte("<?")):
			if err := s.instruction(first); err != nil {
				return 0, err
			}
		case bytes.HasPrefix(head, []byte("<!--")):
			if err := s.comment(); err != nil {
				return 0, err
			}
		case bytes.HasPrefix(head, []byte("<![CDATA[")):
			return s.cdata()
		case bytes.HasPrefix(head, []byte("<!")):
			return 0, errDoctype
		case bytes.HasPrefix(head, []byte("</")):
			return s.endTag()
		default:
			return s.startTag()
		}
	}
}

// startsWide reports whether a text begins as UTF-16 or UTF-32 does.
func startsWide(head []byte) bool {
	return hasWideMark(head) || len(head) > 1 && (head[0] == 0 || head[1] == 0)
}

// complete checks that exactly one root element was opened and closed.
func (s *scanner) complete() error {
	switch {
	case !s.rooted:
		return xmlError("it is empty")
	case s.depth() > 0:
		return io.ErrUnexpectedEOF
	}
	return nil
}

// readText reads up to the next tag. Outside the root it may only be blank,
// and is then passed over: the token is tokenEnd.
func (s *scanner) readText() (token, error) {
	n, err := s.find(0, "<")
	if errors.Is(err, io.ErrUnexpectedEOF) && s.depth() == 0 {
		n, err = s.end-s.pos, nil
	}
	if err != nil {
		return 0, err
	}
	raw := s.buf[s.pos : s.pos+n]
	s.pos += n
	if s.depth() == 0 {
		if len(bytes.Trim(raw, " \t\r\n")) > 0 {
			return 0, xmlError("it has text outside its root element")
		}
		return tokenEnd, nil
	}
	if bytes.Contains(raw, []byte("]]>")) {
		return 0, xmlError("it holds ]]> outside a CDATA section")
	}
	s.text, err = s.expand(raw, true)
	return tokenText, err
}

func (s *scanner) cdata() (token, error) {
	const begin, stop = len("<![CDATA["), "]]>"
	n, err := s.find(begin, stop)
	if err != nil {
		return 0, err
	}
	if s.depth() == 0 {
		return 0, xmlError("it has text outside its root element")
	}
	raw := s.buf[s.pos+begin : s.pos+n]
	s.pos += n + len(stop)
	s.text, err = s.expand(raw, false)
	return tokenText, err
}

func (s *scanner) comment() error {
	n, err := s.find(len("<!--"), "--")
	if err != nil {
		return err
	}
	if _, err := s.ahead(n + 3); err != nil {
		return err
	}
	if s.pos+n+2 >= s.end || s.buf[s.pos+n+2] != '>' {
		return xmlError("it holds two hyphens inside a comment")
	}
	if _, err := scanChars(s.buf[s.pos : s.pos+n]); err != nil {
		return err
	}
	s.pos += n + 3
	return nil
}

// instruction passes over <?...?>; the XML declaration may only stand first
// and may only state UTF-8.
func (s *scanner) instruction(first bool) error {
	n, err := s.find(len("<?"), "?>")
	if err != nil {
		return err
	}
	raw := s.buf[s.pos+2 : s.pos+n]
	s.pos += n + 2
	if _, err := scanChars(raw); err != nil {
		return err
	}
	target, rest := cutName(raw)
	if len(target) == 0 || len(rest) > 0 && !isBlank(rest[0]) {
		return xmlError("it holds a processing instruction without a name")
	}
	if !bytes.EqualFold(target, []byte("xml")) {
		return nil
	}
	if !first || string(target) != "xml" {
		return xmlError("its XML declaration does not stand at its beginning")
	}
	return s.declaration(rest)
}

// declaration checks what <?xml ...?> states.
func (s *scanner) declaration(rest []byte) error {
	defer func() { s.attrs = s.attrs[:0] }()
	if err := s.attributes(rest); err != nil {
		return err
	}
	if v, ok := s.attr("version"); !ok || string(v) != "1.0" {
		return xmlError("its XML declaration does not state version 1.0")
	}
	if enc, ok := s.attr("encoding"); ok && !bytes.EqualFold(enc, []byte("utf-8")) {
		return errEncoding
	}
	return nil
}
