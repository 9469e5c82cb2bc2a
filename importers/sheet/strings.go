package sheet

import (
	"context"
	"fmt"
	"io"
)

// readStrings reads the table of shared texts, wherever it is kept.
func (w *workbook) readStrings(ctx context.Context) error {
	p, err := w.related("sharedStrings", "the table of its texts")
	if err != nil || p == nil {
		return err
	}
	w.hasText = true
	return w.archive.inflate(ctx, p, func(r io.Reader) error {
		s := newScanner(r, p.entry.UncompressedSize64)
		if err := w.sharedStrings(s); err != nil {
			return w.archive.badXML(p, w.archive.origin(), err)
		}
		return nil
	})
}

func (w *workbook) sharedStrings(s *scanner) error {
	var store texts
	var text []byte
	for {
		t, err := s.next()
		if err != nil {
			return err
		}
		switch {
		case t == tokenEnd:
			return nil
		case t == tokenStart && s.depth() == 1 && !s.is("sst"):
			return xmlError("it is no table of texts")
		case t == tokenStart && s.depth() == 2 && s.is("si"):
			if text, err = richText(s, text[:0]); err != nil {
				return err
			}
			if len(w.strings) >= w.archive.limits.Cells {
				return tooMuch(CodeCells, w.archive.origin(), fmt.Sprintf("the file has more than %d texts", w.archive.limits.Cells))
			}
			if len(text) > w.archive.limits.CellBytes {
				return longText(w.archive.origin(), w.archive.limits)
			}
			w.strings = append(w.strings, store.keep(unescape(text)))
		case t == tokenStart && s.depth() == 2 && string(s.local) != "extLst":
			return xmlError("its table of texts holds something else")
		}
	}
}

// richText appends the text of the element whose start tag was just read, up
// to its end tag: that of its t elements and of those in runs, but not the
// phonetic guides.
func richText(s *scanner, dst []byte) ([]byte, error) {
	depth := s.depth()
	inText, guide := 0, 0 // depths at which a t or rPh element began
	for {
		t, err := s.next()
		if err != nil {
			return dst, err
		}
		switch t {
		case tokenText:
			if inText > 0 && guide == 0 {
				dst = append(dst, s.text...)
			}
		case tokenStart:
			if s.is("t") && inText == 0 {
				inText = s.depth()
			} else if s.is("rPh") && guide == 0 {
				guide = s.depth()
			}
		case tokenClose:
			left := s.depth() + 1
			if left == depth {
				return dst, nil
			}
			if left == inText {
				inText = 0
			}
			if left == guide {
				guide = 0
			}
		}
	}
}
