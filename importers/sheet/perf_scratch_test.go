package sheet
import ("testing";"context";"github.com/xuri/excelize/v2";"fmt";"os";"time")
func TestScratch(t *testing.T){
 p:="/tmp/s/big.xlsx"
 if _,err:=os.Stat(p);err!=nil{
 f:=excelize.NewFile(); w,_:=f.NewStreamWriter("Sheet1")
 for r:=1;r<=100000;r++{ row:=make([]any,20); for c:=range row{ switch c%4{case 0: row[c]=fmt.Sprintf("P-%05d",r); case 1: row[c]=float64(r)*0.37; case 2: row[c]=r*c; default: row[c]="box"}}; cell,_:=excelize.CoordinatesToCellName(1,r); w.SetRow(cell,row)}
 w.Flush(); f.SaveAs(p)}
 t0:=time.Now(); b,err:=Open(context.Background(),p,DefaultLimits()); if err!=nil{t.Fatal(err)}
 fmt.Println(len(b.Sheets[0].Rows),time.Since(t0), b.Sheets[0].Rows[5].Cells)
 in,_:=Inspect(context.Background(),p,DefaultLimits()); fmt.Printf("%+v\n",in)
}
