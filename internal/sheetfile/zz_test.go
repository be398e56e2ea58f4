package sheetfile
import ("testing";"math/rand/v2";"time";"os")
func TestZZ(t *testing.T){
 r:=rand.New(rand.NewPCG(uint64(time.Now().UnixNano()),1)); end:=time.Now().Add(80*time.Second); n:=0
 for time.Now().Before(end){ text:=string(Encode(randomSheet(t,r))); for range 20 { d:=damage(r,text); func(){ defer func(){if p:=recover();p!=nil{os.WriteFile("/tmp/p.toml",[]byte(d),0644);t.Fatal(p,d)}}(); checkDecode(t,[]byte(d)) }(); n++; if t.Failed(){t.Fatal(d)}}}
 t.Log(n)
}
