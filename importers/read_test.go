package importers

import (
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"

	"lanewright/importers/column"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

const mm = units.Millimetre

func TestCanonicalWorkbookIsReadWhole(t *testing.T) {
	t.Parallel()
	r := readFolder(t, "lantern")
	require.False(t, r.Findings.HasErrors(), "%v", r.Findings)
	assert.Zero(t, r.Findings.Count(finding.Warning), "%v", r.Findings)
	for _, l := range r.Sheets {
		assert.Zero(t, l.Reported, l.Sheet)
		assert.Equal(t, 1, l.Skipped, l.Sheet)
		assert.Equal(t, l.Sheet, l.Kind)
	}
	p, x := r.Plant, plant.NewIndex(&r.Plant)
	assert.Equal(t, "Skerrow Lantern Works", p.Name)
	assert.Equal(t, 40*time.Minute, p.Settings.Interval)
	assert.Equal(t, "0.99", p.Settings.ServiceLevel.String())
	assert.Equal(t, []time.Duration{20 * time.Minute, 40 * time.Minute, time.Hour}, p.Settings.IntervalChoices)
	assert.Equal(t, 75*mm, p.Settings.RollerPitch)
	assert.Equal(t, uint64(7), p.Settings.Seed)

	early, night := x.Shifts["early"], x.Shifts["night"]
	assert.Equal(t, 435*time.Minute, early.Net())
	assert.Equal(t, 450*time.Minute, night.Net())
	assert.Equal(t, 26*time.Hour, night.Breaks[0].Start)
	assert.Equal(t, [7]bool{time.Monday: true, time.Wednesday: true}, night.Days)

	ring := x.Parts["00123"]
	assert.Equal(t, plant.Part{
		Part: "00123", Description: "Base ring", PieceMass: 1250 * units.Gram, Container: "TRAY", Pack: 8, MarketAddress: "A-02-1",
		UnitCost: 11 * units.Unit, TwoHands: true, LookAlike: "3-4", Origin: finding.Origin{File: "Parts.csv", Sheet: "Parts", Row: 3},
	}, *ring)
	tray := x.Containers["TRAY"]
	assert.Equal(t, plant.LengthAlong, tray.FlowSide)
	assert.Equal(t, "0.25", tray.Nests.String())
	assert.Equal(t, []plant.FixedLanes{{Level: 2, Widths: []units.Length{416 * mm, 416 * mm}}, {Level: 3, Widths: []units.Length{320 * mm, 320 * mm, 320 * mm}}}, x.Racks["R1"].FixedLanes)
	assert.Equal(t, []plant.StationCode{"10", "20"}, x.Racks["R2"].Stations)
	assert.Equal(t, plant.Place{X: 33500 * mm, Y: 5250 * mm}, *x.Stations[plant.StationKey{Cell: "C2", Station: "20"}].Place)
	assert.Equal(t, plant.DefaultWalkLimit, x.Stations[plant.StationKey{Cell: "C1", Station: "20"}].WalkLimit)
	assert.Equal(t, 36*units.Metre, p.Aisles[3].Length)
	assert.True(t, p.Aisles[3].OneWay)
	assert.Equal(t, 3500*time.Millisecond, x.Vehicles["CART"].EmptyTime)
	assert.Equal(t, 4, p.Usage[3].Containers)
	assert.Equal(t, "0.05", p.Usage[1].Safety.String())
	assert.Nil(t, p.Usage[0].Safety)
}

func TestServiceAndPrices(t *testing.T) {
	t.Parallel()
	w := loadWorkbook(t, "lantern")
	for _, row := range [][]string{
		{"Service measure", "Fill rate"}, {"Shortages per year", "0.5"}, {"History decides", "variation"}, {"Weeks per year", "46.5"},
		{"Handler cost per hour (EUR)", "31.50"}, {"Vehicle cost per year", "4200 EUR"}, {"Rack life (years)", "8"},
		{"Floor cost per m2 and year", "96"}, {"Stock interest (%)", "7.5"},
	} {
		w.add("Plant", row...)
	}
	r := w.readZip(t)
	require.False(t, r.Findings.HasErrors(), "%v", r.Findings)
	s := r.Plant.Settings
	assert.Equal(t, plant.ServiceFillRate, s.Measure)
	assert.Equal(t, plant.HistoryVariation, s.History)
	assert.Equal(t, "0.5 46.5 8 0.075", fmt.Sprint(s.ShortagesPerYear, " ", s.WeeksPerYear, " ", s.Prices.RackYears, " ", s.Prices.StockInterest))
	assert.Equal(t, []units.Money{31_500_000, 4200 * units.Unit, 96 * units.Unit}, []units.Money{s.Prices.HandlerHour, s.Prices.VehicleYear, s.Prices.FloorYear})
}

func TestWordsOfService(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]plant.ServiceMeasure{
		"cycle": plant.ServicePerCycle, "Cycle service level": plant.ServicePerCycle, "YEAR": plant.ServicePerYear,
		"shortages per year": plant.ServicePerYear, "fill": plant.ServiceFillRate, "fill-rate": plant.ServiceFillRate,
	} {
		r := loadWorkbook(t, "lantern").add("Plant", "Service measure", text).readZip(t)
		assert.Equal(t, want, r.Plant.Settings.Measure, text)
		assert.False(t, r.Findings.HasErrors(), "%v", r.Findings)
	}
	for _, text := range []string{"negative binomial", "Negative-binomial", "over-dispersed", "overdispersed"} {
		r := loadWorkbook(t, "lantern").set("Usage", "M2", text).readZip(t)
		assert.Equal(t, plant.NegativeBinomialModel, r.Plant.Usage[0].Model, text)
	}
}

// A bad setting leaves its default, so that the rest can be checked against it.
func TestABadSettingLeavesItsDefault(t *testing.T) {
	t.Parallel()
	usual := plant.DefaultSettings()
	s := loadWorkbook(t, "lantern").add("Plant", "Service measure", "monthly").add("Plant", "Weeks per year", "0").add("Plant", "Rack life", "-1").readZip(t).Plant.Settings
	assert.Equal(t, usual.Measure, s.Measure)
	assert.Equal(t, usual.WeeksPerYear, s.WeeksPerYear)
	assert.Equal(t, usual.Prices, s.Prices)
}

func readFolder(t testing.TB, folder string) *Result {
	t.Helper()
	r, err := ReadFiles(context.Background(), filepath.Join(fixtures, folder))
	require.NoError(t, err)
	return r
}

// revisions are equal when the facts are.
func revision(r *Result) string { return plant.Revision(&r.Plant) }

func TestFormatsGiveTheSameFacts(t *testing.T) {
	t.Parallel()
	folder := readFolder(t, "lantern")
	w := loadWorkbook(t, "lantern")
	for name, r := range map[string]*Result{
		"zip":      w.readZip(t),
		"workbook": readBytes(t, "plant.xlsx", w.xlsx(t)),
	} {
		assert.Equal(t, revision(folder), revision(r), "%s: %v", name, r.Findings)
		assert.Equal(t, len(folder.Findings), len(r.Findings), "%s: %v", name, r.Findings)
	}
}

func TestSheetsMayComeInSeveralFiles(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob(filepath.Join(fixtures, "lantern", "*.csv"))
	require.NoError(t, err)
	r, err := ReadFiles(context.Background(), files...)
	require.NoError(t, err)
	assert.Equal(t, revision(readFolder(t, "lantern")), revision(r))
}

func TestOrderOfRowsAndColumnsChangesNothing(t *testing.T) {
	t.Parallel()
	base := revision(readFolder(t, "lantern"))
	w := loadWorkbook(t, "lantern")
	rapid.Check(t, func(rt *rapid.T) {
		random := rand.New(rand.NewPCG(rapid.Uint64().Draw(rt, "seed"), 1))
		mixed := workbook{}
		for name, rows := range w {
			order := random.Perm(len(rows[0]))
			shuffled := make([][]string, len(rows))
			for i, row := range rows {
				for _, j := range order {
					shuffled[i] = append(shuffled[i], row[j])
				}
			}
			random.Shuffle(len(rows)-1, func(i, j int) { shuffled[i+1], shuffled[j+1] = shuffled[j+1], shuffled[i+1] })
			mixed[name] = shuffled
		}
		if r := mixed.readZip(t); revision(r) != base {
			rt.Fatalf("the facts changed: %v", r.Findings)
		}
	})
}

// The measures of the metric workbook are whole inches and pounds written in
// millimetres and kilograms, so both workbooks state the same facts.
func TestInchesAndPoundsGiveTheSameFacts(t *testing.T) {
	t.Parallel()
	w := workbook{
		"Parts":      {{"Part", "Piece mass (kg)", "Container", "Standard pack"}, {"A", "0.45359237", "T", "10"}, {"B", "0.028349523125", "T", "40"}},
		"Containers": {{"Container", "Length (mm)", "Width (mm)", "Height (mm)", "Empty mass (kg)"}, {"T", "609.6", "387.35", "279.4", "1.81436948"}},
		"Usage":      {{"Part", "Cell", "Station", "Pieces per hour"}, {"A", "C", "S", "30"}, {"B", "C", "S", "60"}},
	}
	metric := w.readZip(t)
	require.False(t, metric.Findings.HasErrors(), "%v", metric.Findings)

	headings := workbook{
		"Parts":      {{"Part", "Piece mass [lb]", "Container", "Standard pack"}, {"A", "1", "T", "10"}, {"B", "1/16", "T", "40"}},
		"Containers": {{"Container", "Length [in]", "Width, inch", "Height in", "Empty mass / lb"}, {"T", "24", "15 1/4", "11", "4"}},
		"Usage":      w["Usage"],
	}
	cells := workbook{
		"Parts":      {{"Part", "Piece mass", "Container", "Standard pack"}, {"A", "1 lb", "T", "10"}, {"B", "1 oz", "T", "40"}},
		"Containers": {{"Container", "Length", "Width", "Height", "Empty mass"}, {"T", "2 ft", "15 1/4 in", `11"`, "4 lb"}},
		"Usage":      w["Usage"],
	}
	settings := workbook{
		"Plant":      {{"Setting", "Value"}, {"Plant name", "plant"}, {"Length unit", "in"}, {"Mass unit", "lb"}},
		"Parts":      {{"Part", "Piece mass", "Container", "Standard pack"}, {"A", "1", "T", "10"}, {"B", "0.0625", "T", "40"}},
		"Containers": {{"Container", "Length", "Width", "Height", "Empty mass"}, {"T", "24", "15.25", "11", "4"}},
		"Usage":      w["Usage"],
	}
	for name, other := range map[string]workbook{"headings": headings, "cells": cells, "settings": settings} {
		r := other.readZip(t)
		r.Plant.Settings.LengthUnit, r.Plant.Settings.MassUnit = "mm", "kg"
		assert.Equal(t, revision(metric), revision(r), "%s: %v", name, r.Findings)
	}
}

func TestMapColumnsAreInMetresWithoutAUnit(t *testing.T) {
	t.Parallel()
	w := loadWorkbook(t, "lantern").set("Plant", "B3", "in").set("Stations", "C1", "X (mm)").set("Stations", "C2", "10000")
	r := w.readZip(t)
	require.False(t, r.Findings.HasErrors(), "%v", r.Findings)
	s := r.Plant.Stations[0]
	assert.Equal(t, plant.Place{X: 10 * units.Metre, Y: 5 * units.Metre}, *s.Place)
	assert.Equal(t, 4*units.Metre, s.WalkLimit)
}

func TestDecimalCommaIsFoundFromTheFile(t *testing.T) {
	t.Parallel()
	w := workbook{
		"Parts":      {{"Part", "Piece mass (kg)", "Container", "Standard pack"}, {"A", "1,250", "T", "10"}, {"B", "0,5", "T", "1.000"}},
		"Containers": {{"Container", "Length (mm)", "Width (mm)", "Height (mm)"}, {"T", "600", "387,35", "280"}},
		"Usage":      {{"Part", "Cell", "Station", "Pieces per hour"}, {"A", "C", "S", "30"}, {"B", "C", "S", "60"}},
	}
	r := w.readZip(t)
	require.False(t, r.Findings.HasErrors(), "%v", r.Findings)
	assert.Equal(t, 1250*units.Gram, r.Plant.Parts[0].PieceMass)
	assert.Equal(t, int64(1000), r.Plant.Parts[1].Pack)

	w.set("Parts", "B3", "").set("Containers", "C2", "387")
	r = w.readZip(t)
	found := ofCode(r.Findings, CodeBadValue)
	assert.Equal(t, []string{"Parts!B2", "Parts!D3"}, places(found), "1,250 kg may be 1250 kg: %v", r.Findings)
}

// A lone 1.234 can be read in two ways; the settings of the Plant sheet show
// which one is meant.
func TestSettingsShowTheDecimalMark(t *testing.T) {
	t.Parallel()
	for level, want := range map[string]units.Mass{"99.5": 1234 * units.Gram, "99,5": 1234 * units.Kilogram} {
		w := workbook{
			"Plant":      {{"Setting", "Value"}, {"Service level (%)", level}, {"Interval choices (min)", "15,20"}},
			"Parts":      {{"Part", "Piece mass (kg)", "Container", "Standard pack"}, {"A", "", "T", "10"}},
			"Containers": {{"Container", "Length (mm)", "Width (mm)", "Height (mm)", "Empty mass (kg)"}, {"T", "600", "400", "280", "1.234"}},
		}
		r := w.readZip(t)
		require.Len(t, r.Plant.Containers, 1, "%v", r.Findings)
		assert.Equal(t, want, r.Plant.Containers[0].EmptyMass, level)
	}
}

func TestPercentagesOfVariation(t *testing.T) {
	t.Parallel()
	for heading, text := range map[string]string{"Variation": "20 %", "Variation (%)": "20", "Variation [%]": "20%", "CV": "0.2"} {
		r := loadWorkbook(t, "lantern").set("Products", "D1", heading).set("Products", "D2", text).set("Products", "D3", "").readZip(t)
		assert.False(t, r.Findings.HasErrors(), "%v", r.Findings)
		assert.True(t, r.Plant.Products[0].Variation.Equal(units.R(1, 5)), "%s %s: %s", heading, text, r.Plant.Products[0].Variation)
	}
}

func TestTitlesAboveTheHeadings(t *testing.T) {
	t.Parallel()
	w := loadWorkbook(t, "lantern")
	w["Parts"] = append([][]string{{"Parts of the north hall"}, {""}, {"as of", "March 2026"}}, w["Parts"]...)
	r := w.readZip(t)
	assert.Equal(t, revision(readFolder(t, "lantern")), revision(r), "%v", r.Findings)
	assert.Equal(t, 6, r.Plant.Parts[1].Origin.Row)
}

func TestCodesStayWhatTheSheetShows(t *testing.T) {
	t.Parallel()
	w := loadWorkbook(t, "lantern").set("Usage", "B2", " l-100\u00a0").set("Usage", "B4", "L-100 ")
	r := w.readZip(t)
	require.False(t, r.Findings.HasErrors(), "%v", r.Findings)
	assert.Equal(t, revision(readFolder(t, "lantern")), revision(r))
	assert.Len(t, ofCode(r.Findings, CodeDifferInCase), 1, "reported once a code")
}

func TestHiddenSheetsAreReadAndSaid(t *testing.T) {
	t.Parallel()
	data := loadWorkbook(t, "lantern").xlsx(t)
	path := filepath.Join(t.TempDir(), "plant.xlsx")
	require.NoError(t, os.WriteFile(path, data, 0o600))
	f, err := excelize.OpenFile(path)
	require.NoError(t, err)
	require.NoError(t, f.SetSheetVisible("Pins", false))
	require.NoError(t, f.Save())
	require.NoError(t, f.Close())
	r, err := ReadFiles(context.Background(), path)
	require.NoError(t, err)
	assert.Equal(t, []string{"Pins"}, places(ofCode(r.Findings, CodeSheetHidden)))
	assert.Equal(t, revision(readFolder(t, "lantern")), revision(r))
}

func TestACodeThatBecameADate(t *testing.T) {
	t.Parallel()
	f := excelize.NewFile()
	for at, v := range map[string]any{"A1": "Part", "B1": "Container", "C1": "Standard pack", "A2": time.Date(2026, 4, 3, 0, 0, 0, 0, time.UTC), "B2": "BOX", "C2": 20} {
		require.NoError(t, f.SetCellValue("Sheet1", at, v))
	}
	require.NoError(t, f.SetSheetName("Sheet1", "Parts"))
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	found := ofCode(readBytes(t, "plant.xlsx", b.Bytes()).Findings, CodeDateAsCode)
	assert.Equal(t, []string{"Parts!A2"}, places(found))
}

// A workbook with headings only, as the template has them, is empty and valid.
func TestHeadingsAloneAreAnEmptyPlant(t *testing.T) {
	t.Parallel()
	w := workbook{}
	for _, s := range column.Sheets() {
		var headings []string
		for _, c := range s.Columns {
			headings = append(headings, c.Field)
		}
		w.add(s.Name, headings...)
	}
	r := w.readZip(t)
	assert.False(t, r.Findings.HasErrors(), "%v", r.Findings)
	assert.Zero(t, r.Findings.Count(warning), "%v", r.Findings)
	for _, l := range r.Sheets {
		assert.Equal(t, l.Sheet, l.Kind)
	}
}

func TestARefusedFileIsAFinding(t *testing.T) {
	t.Parallel()
	r := readBytes(t, "old.xls", []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1 old"))
	require.True(t, r.Findings.HasErrors())
	assert.NotEmpty(t, r.Findings[0].Remedy)
	_, err := ReadFiles(context.Background(), filepath.Join(t.TempDir(), "not-there.xlsx"))
	assert.ErrorIs(t, err, os.ErrNotExist)
}

func TestColumnsAreRecorded(t *testing.T) {
	t.Parallel()
	r := loadWorkbook(t, "lantern").set("Parts", "E1", "Qty / Box").readZip(t)
	assert.Contains(t, r.Plant.Columns, plant.Column{File: r.Plant.Parts[0].Origin.File, Sheet: "Parts", Field: "Standard pack", Letters: "E", Heading: "Qty / Box"})
	assert.Equal(t, "E", r.Plant.At(r.Plant.Parts[0].Origin, "Standard pack").Column)
}

func TestReadingManyRows(t *testing.T) {
	t.Parallel()
	w := loadWorkbook(t, "lantern")
	for i := range 5000 {
		part := "P" + strconv.Itoa(i)
		w.add("Parts", part, "", "0.1", "BOX", "20")
		for j := range 4 {
			w.add("Usage", "", part, "C"+strconv.Itoa(1+j%2), strconv.Itoa(10*(1+j/2)), "", "", strconv.Itoa(10+j))
		}
	}
	r := w.readZip(t)
	assert.False(t, r.Findings.HasErrors())
	assert.Len(t, r.Plant.Usage, 20004)
}
