package drawing

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"lanewright/planner"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
)

// TestBothWritersGetTheSame: a sheet is drawn by the same calls whoever writes it,
// and every text arrives in the SVG.
func TestBothWritersGetTheSame(t *testing.T) {
	t.Parallel()
	r := skerrow(t, "mm")[3]
	for _, sheet := range r.sheets() {
		var onSVG, onPDF *recorder
		var svg bytes.Buffer
		require.NoError(t, writeSVG(&svg, a4, "t", "d", func(p Paper) { onSVG = record(p); sheet(onSVG) }))
		require.NoError(t, writePDF(io.Discard, a4, "t", slices.Values([]func(Paper){func(p Paper) { onPDF = record(p); sheet(onPDF) }})))
		assert.Equal(t, onSVG.calls, onPDF.calls)
		texts, elements := readSVG(t, svg.Bytes())
		var want []string
		for _, one := range onSVG.texts {
			want = append(want, one.Text)
		}
		assert.Equal(t, want, texts)
		rollers := 0
		for _, c := range onSVG.calls {
			if strings.HasPrefix(c, "rollers") {
				rollers++
			}
		}
		assert.Equal(t, len(onSVG.calls)+rollers+1, elements, "rollers are two, and there is the ground")
	}
}

// readSVG reads a picture as XML: its texts, and how many elements draw.
func readSVG(t *testing.T, source []byte) (texts []string, elements int) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(source))
	inside := ""
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return texts, elements
		}
		require.NoError(t, err)
		switch e := token.(type) {
		case xml.StartElement:
			inside = e.Name.Local
			if inside == "path" || inside == "circle" || inside == "text" {
				elements++
			}
			for _, a := range e.Attr {
				if a.Name.Local == "fill" || a.Name.Local == "stroke" {
					assert.True(t, isGrey(a.Value), a.Value)
				}
			}
		case xml.CharData:
			if inside == "text" {
				texts = append(texts, string(e))
			}
		case xml.EndElement:
			inside = ""
		}
	}
}

func isGrey(s string) bool {
	return len(s) < 7 || s[1:3] == s[3:5] && s[3:5] == s[5:7]
}

// TestSVG: each view is well-formed, tells what it shows, holds odd names, and is
// the same twice.
func TestSVG(t *testing.T) {
	t.Parallel()
	r := skerrow(t, "mm")[0]
	r.Rack = `R<1> & "ß"`
	for _, v := range Views() {
		var one, two bytes.Buffer
		require.NoError(t, SVG(&one, r, v))
		require.NoError(t, SVG(&two, r, v))
		assert.Equal(t, one.String(), two.String())
		texts, _ := readSVG(t, one.Bytes())
		assert.Contains(t, texts, r.Rack)
		assert.Contains(t, one.String(), `viewBox="0 0 297 210" width="297mm" height="210mm" role="img"`)
		assert.Contains(t, one.String(), "<title id=\"t\">Rack R&lt;1&gt; &amp; &#34;ß&#34;: "+string(v)+"</title>")
		assert.Contains(t, one.String(), "Level 2, supply: pick edge ")
	}
	assert.Error(t, SVG(broken{}, r, FrontView))
	assert.Error(t, BuildSheets(broken{}, r))
}

// broken is a file that takes nothing.
type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, errors.New("full") }

// TestPDF: a document of several racks has their pages, carries its fonts, and is
// the same twice.
func TestPDF(t *testing.T) {
	t.Parallel()
	racks := skerrow(t, "mm")[:3]
	racks[1].Rack = "Größe Ж 漢 😀"
	var one, two bytes.Buffer
	require.NoError(t, BuildSheets(&one, racks...))
	require.NoError(t, BuildSheets(&two, racks...))
	assert.Equal(t, one.Bytes(), two.Bytes())
	pages := 0
	for i := range racks {
		pages += len(racks[i].sheets())
	}
	source := one.String()
	assert.True(t, strings.HasPrefix(source, "%PDF-1."))
	assert.True(t, strings.HasSuffix(strings.TrimSpace(source), "%%EOF"))
	assert.Len(t, regexp.MustCompile(`/Type /Page\n`).FindAllString(source, -1), pages)
	assert.Equal(t, 2, strings.Count(source, "/FontFile2"))
	assert.Contains(t, source, "D:19700101000000")
}

// TestPDFReads: another program reads the texts back.
func TestPDFReads(t *testing.T) {
	t.Parallel()
	program, err := exec.LookPath("pdftotext")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("pdftotext, of poppler-utils, is not installed: .ci/deps reader")
		}
		t.Skip("pdftotext, of poppler-utils, is not installed")
	}
	r := skerrow(t, "in")[0]
	r.Rack = "Größe Ж 1/2"
	file := t.TempDir() + "/sheet.pdf"
	f, err := os.Create(file)
	require.NoError(t, err)
	require.NoError(t, BuildSheets(f, r))
	require.NoError(t, f.Close())
	out, err := exec.Command(program, "-layout", file, "-").CombinedOutput()
	require.NoError(t, err)
	for _, want := range []string{"Größe Ж 1/2", "pick side", "load side", "Cut list", "Steps", "page 1 of 2", "page 2 of 2", fmt.Sprintf("level 2: %s", r.measure().long(r.Frame.Deck(2).PickHeight)), "a licensed"} {
		assert.Contains(t, string(out), want)
	}
}

// TestWidthsAreTheFonts: what is measured is what the fonts say, and they have
// every sign that is passed on to them.
func TestWidthsAreTheFonts(t *testing.T) {
	t.Parallel()
	for bold, data := range map[bool][]byte{false: goregular.TTF, true: gobold.TTF} {
		f, err := sfnt.Parse(data)
		require.NoError(t, err)
		var b sfnt.Buffer
		for _, span := range signs {
			for sign := span[0]; sign <= span[1]; sign++ {
				i, err := f.GlyphIndex(&b, sign)
				require.NoError(t, err)
				require.NotZero(t, i, "%U", sign)
				a, err := f.GlyphAdvance(&b, i, fixed.I(1000), font.HintingNone)
				require.NoError(t, err)
				w := Text{Size: 1, Bold: bold, Text: string(sign)}.width() * 1000
				if sign < 0x180 {
					assert.InDelta(t, float64(a)/64, w, 1, "%U", sign)
				} else {
					assert.LessOrEqual(t, float64(a)/64, w, "%U", sign)
				}
			}
		}
	}
}

// many are 2,500 racks: those of the made-up plant over and over.
func many(b *testing.B) []Rack {
	racks := skerrow(b, "mm")
	list := make([]Rack, 2500)
	for i := range list {
		list[i] = racks[i%len(racks)]
	}
	return list
}

// BenchmarkBuildSheets writes 2,500 build sheets, 5,000 pages, as one document.
func BenchmarkBuildSheets(b *testing.B) {
	racks := many(b)
	for b.Loop() {
		require.NoError(b, BuildSheets(io.Discard, racks...))
	}
}

// BenchmarkSVG draws the three views of 2,500 racks.
func BenchmarkSVG(b *testing.B) {
	racks := many(b)
	for b.Loop() {
		for _, r := range racks {
			for _, v := range Views() {
				require.NoError(b, SVG(io.Discard, r, v))
			}
		}
	}
}

// BenchmarkBuildSheet writes a document for one rack, as a page asks for it.
func BenchmarkBuildSheet(b *testing.B) {
	r := skerrow(b, "mm")[0]
	for b.Loop() {
		require.NoError(b, BuildSheets(io.Discard, r))
	}
}

// manyPlanned is the made-up plant's plan with its racks over and over until there
// are n, each with its lanes.
func manyPlanned(t testing.TB, n int) (*plant.Plant, *planner.Plan) {
	facts, plan := skerrowPlan(t, "mm")
	lanes := map[plant.RackCode][]placement.Lane{}
	for _, l := range plan.Lanes {
		lanes[l.Rack] = append(lanes[l.Rack], l)
	}
	racks := plan.Racks
	plan.Racks, plan.Lanes = nil, nil
	for i := range n {
		r := racks[i%len(racks)]
		code := plant.RackCode(fmt.Sprintf("%s-%04d", r.Rack, i))
		for _, l := range lanes[r.Rack] {
			l.Rack = code
			plan.Lanes = append(plan.Lanes, l)
		}
		r.Rack = code
		plan.Racks = append(plan.Racks, r)
	}
	return facts, plan
}

// BenchmarkBuiltAndDrawn frames, screens, lists and cuts 2,500 racks and writes
// their build sheets, 5,000 pages, as one document: under 10 s on two cores is wanted.
func BenchmarkBuiltAndDrawn(b *testing.B) {
	facts, plan := manyPlanned(b, 2500)
	for b.Loop() {
		racks, err := All(context.Background(), facts, plan, "7", 2)
		require.NoError(b, err)
		require.NoError(b, BuildSheets(io.Discard, racks...))
	}
}
