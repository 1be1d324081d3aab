package stats
import ("testing";"sort";"fmt")
func TestZZ(t *testing.T) {
	type r struct{e float64; s string}
	var rs []r
	for _, row := range referenceTable(t, "noncentralt.csv") {
		x, df, ncp := number(t, row[0]), number(t, row[1]), number(t, row[2])
		d, _ := NewNoncentralT(df)
		xx,nn:=x,ncp; sw:=0; if x<0 {xx,nn=-x,-ncp;sw=1}; ok:=false; if d.whole>0 {_,_,ok=d.finiteTails(xx,nn)}
		lower, upper, _ := d.Tails(x, ncp)
		for i, got := range []float64{lower, upper} {
			if number(t, row[3+i]) < leastCompared { continue }
			rs=append(rs, r{relativeErrorOf(t, got, row[3+i]), fmt.Sprint(row, i^sw, ok)})
		}
	}
	sort.Slice(rs, func(i,j int) bool {return rs[i].e>rs[j].e})
	for _,x:=range rs[:25] { fmt.Printf("%.1e %s\n",x.e,x.s)}
}
