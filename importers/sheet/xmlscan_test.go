package sheet

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// tokensOf returns what the scanner finds, one line per tag; texts that touch
// are one.
func tokensOf(r io.Reader) ([]string, error) {
	s := newScanner(r, 0)
	var out []string
	for {
		t, err := s.next()
		if err != nil {
			return out, err
		}
		switch t {
		case tokenEnd:
			return out, nil
		case tokenStart:
			line := "<" + string(s.local)
			for _, a := range s.attrs {
				line += fmt.Sprintf(" %s=%q", a.name, a.value)
			}
			out = append(out, line)
		case tokenClose:
			out = append(out, "/"+string(s.local))
		case tokenText:
			out = appendText(out, string(s.text))
		}
	}
}

func appendText(out []string, text string) []string {
	if text == "" {
		return out
	}
	if n := len(out) - 1; n >= 0 && strings.HasPrefix(out[n], "=") {
		out[n] += text
		return out
	}
	return append(out, "="+text)
}

// libraryTokens are those of the standard library's reader.
func libraryTokens(data []byte) ([]string, error) {
	d := xml.NewDecoder(bytes.NewReader(data))
	depth := 0
	var out []string
	for {
		t, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out, nil
		}
		if err != nil {
			return out, err
		}
		switch t := t.(type) {
		case xml.StartElement:
			depth++
			out = append(out, "<"+t.Name.Local)
		case xml.EndElement:
			depth--
			out = append(out, "/"+t.Name.Local)
		case xml.CharData:
			if depth > 0 {
				out = appendText(out, string(t))
			}
		}
	}
}

// namesOnly cuts the attributes off.
func namesOnly(lines []string) []string {
	out := make([]string, 0, len(lines))
	for _, l := range lines {
		if strings.HasPrefix(l, "<") {
			l, _, _ = strings.Cut(l, " ")
		}
		out = append(out, l)
	}
	return out
}

func TestScanner(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, text string
		want       string // empty: refused
	}{
		{"element", `<a/>`, "<a /a"},
		{"declaration", `<?xml version="1.0" encoding='utf-8'?><a/>`, "<a /a"},
		{"attributes", `<a b="1" c:d = 'x&lt;"&#65;&#x42;'/>`, `<a b="1" c:d="x<\"AB" /a`},
		{"text", "<a>x&amp;y\r\nz\r</a>", "<a =x&y\nz\n /a"},
		{"CDATA", `<a>x<![CDATA[<&]]>y</a>`, "<a =x<&y /a"},
		{"comment inside", `<a>x<!-- y -->z</a>`, "<a =xz /a"},
		{"instruction inside", `<a>x<?y z?></a>`, "<a =x /a"},
		{"> in a value", `<a b=">"/>`, `<a b=">" /a`},
		{"nested", `<a><b><c/></b><b/></a>`, "<a <b <c /c /b <b /b /a"},
		{"blanks around", "\n<a/>\n", "<a /a"},
		{"blanks in tags", "<a\n b='1'\t></a >", `<a b="1" /a`},
		{"nothing", "", ""},
		{"blanks only", "  ", ""},
		{"text only", "x", ""},
		{"text before", "x<a/>", ""},
		{"text behind", "<a/>x", ""},
		{"reference behind", "<a/>&#32;", ""},
		{"CDATA behind", "<a/><![CDATA[]]>", ""},
		{"two roots", "<a/><b/>", ""},
		{"unclosed", "<a><b></b>", ""},
		{"crossed", "<a><b></a></b>", ""},
		{"closed too often", "<a/></a>", ""},
		{"prefix differs", "<x:a></y:a>", ""},
		{"half a tag", "<a", ""},
		{"half an end tag", "<a></a", ""},
		{"half a comment", "<a><!-- x", ""},
		{"hyphens in a comment", "<a><!-- x -- y --></a>", ""},
		{"half a CDATA", "<a><![CDATA[x]]</a>", ""},
		{"CDATA end outside", "<a>]]></a>", ""},
		{"doctype", "<!DOCTYPE a><a/>", ""},
		{"unknown entity", "<a>&nbsp;</a>", ""},
		{"bare ampersand", "<a>x & y</a>", ""},
		{"reference to a control character", "<a>&#0;</a>", ""},
		{"signed reference", "<a>&#+65;</a>", ""},
		{"control character", "<a>\x02</a>", ""},
		{"not UTF-8", "<a>\xff</a>", ""},
		{"not UTF-8 in a comment", "<a><!-- \xff --></a>", ""},
		{"forbidden character", "<a>\ufffe</a>", ""},
		{"attribute twice", `<a b="1" b="2"/>`, ""},
		{"attribute without quotes", `<a b=1/>`, ""},
		{"attribute without value", `<a b/>`, ""},
		{"attributes that touch", `<a b="1"c="2"/>`, ""},
		{"< in a value", `<a b="<"/>`, ""},
		{"digit as a name", `<1/>`, ""},
		{"space before the name", `< a/>`, ""},
		{"empty prefix", `<:a/>`, ""},
		{"two colons", `<a:b:c/>`, ""},
		{"declaration inside", `<a><?xml version="1.0"?></a>`, ""},
		{"declaration after a blank", ` <?xml version="1.0"?><a/>`, ""},
		{"other version", `<?xml version="1.1"?><a/>`, ""},
		{"other encoding", `<?xml version="1.0" encoding="latin1"?><a/>`, ""},
		{"instruction without a name", `<a><? x?></a>`, ""},
		{"UTF-16", "\xfe\xff\x00<\x00a\x00/\x00>", ""},
		{"deep", strings.Repeat("<a>", 500) + strings.Repeat("</a>", 500), ""},
		{"many attributes", "<a" + manyAttributes(300) + "/>", ""},
		{"endless text", "<a>" + strings.Repeat("x", 5<<20) + "</a>", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			for _, r := range []io.Reader{strings.NewReader(c.text), iotest.OneByteReader(strings.NewReader(c.text))} {
				if len(c.text) > 1<<20 {
					r = strings.NewReader(c.text)
				}
				got, err := tokensOf(r)
				if c.want == "" {
					require.Error(t, err)
					continue
				}
				require.NoError(t, err)
				assert.Equal(t, c.want, strings.Join(got, " "))
			}
		})
	}
}

func manyAttributes(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, ` a%d=""`, i)
	}
	return b.String()
}

// Errors of the reader below come through.
func TestScannerPassesErrorsOn(t *testing.T) {
	t.Parallel()
	_, err := tokensOf(io.MultiReader(strings.NewReader("<a>"), iotest.ErrReader(io.ErrClosedPipe)))
	require.ErrorIs(t, err, io.ErrClosedPipe)
}

// What this scanner accepts, the standard library reads too, and as the same
// tags and texts.
func FuzzScanner(f *testing.F) {
	for _, s := range []string{
		`<?xml version="1.0"?><a b="1">x&amp;<b/><![CDATA[y]]><!-- z --></a>`, "<a>\r\n</a>", `<x:a xmlns:x="y" z='&#65;'/>`, "<a>]]></a>", "\ufeff<a/>",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		got, err := tokensOf(bytes.NewReader(data))
		if err != nil {
			return
		}
		want, err := libraryTokens(data)
		require.NoError(t, err)
		require.Equal(t, want, namesOnly(got))
	})
}
