package drawing
import ("testing";"os";"fmt";"context";"strings"
"lanewright/importers";"lanewright/planner";"lanewright/testdata/plants";"github.com/stretchr/testify/require")
func skPapers(t testing.TB, unit string) Papers {
	read, err := importers.ReadBytes(context.Background(), plants.SkerrowName, plants.Skerrow)
	require.NoError(t, err)
	s := planner.DefaultSettings(&read.Plant)
	s.Plant.LengthUnit, read.Plant.Settings.LengthUnit = unit, unit
	require.NoError(t, s.Set("placement_steps", "0"))
	plan, err := planner.Run(context.Background(), planner.Input{Plant: &read.Plant}, s, planner.Options{Threads: 2})
	require.NoError(t, err)
	return Papers{Facts: &read.Plant, Plan: plan, Name: "plan 7, facts abc"}
}
func TestZZ(t *testing.T) {
	p := skPapers(t, "mm")
	os.MkdirAll("/tmp/out",0o755)
	for _, size := range []string{"63.5x38.1","99.1x38.1","99.1x67.7","4x2in","4x3.33in","page:100x50","page:60x36"} {
		for _, k := range LabelKinds() {
		sh, err := ParseLabelSheet(size); require.NoError(t, err)
		f, _ := os.Create("/tmp/out/"+string(k)+"-"+strings.ReplaceAll(size,":","-")+".pdf")
		short, err := p.Labels(f, LabelOptions{Kind:k, Sheet: sh, Skip: 2})
		require.NoError(t, err); f.Close()
		fmt.Println(size, k, short)
		}
	}
	f, _ := os.Create("/tmp/out/cards.pdf")
	short, err := p.Cards(f)
	require.NoError(t, err); f.Close()
	fmt.Println(short)
}
func TestYY(t *testing.T) {
	p := skPapers(t, "mm")
	f, _ := os.Create("/tmp/out/sheets.pdf")
	require.NoError(t, p.RouteSheets(f)); f.Close()
}
func TestXX(t *testing.T) {
	p := skPapers(t, "mm")
	f, _ := os.Create("/tmp/out/report.pdf")
	require.NoError(t, p.Report(f, ReportOptions{})); f.Close()
}
