package job

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"

	"floatmark/layouts/proof"
)

// remembered verdicts lie in a folder, a file for each design, named by all that
// could change one: the model, the exact shapes, the texts, the printer. So a
// verdict that is found is the very one that pictures would give, and the folder
// may be lost at any time. Pictures are not kept there.
type rememberedVerdict struct {
	Format int           `json:"format"`
	Model  string        `json:"model"`
	Grade  proof.Grade   `json:"grade"`
	Scores []proof.Score `json:"scores"`
}

// verdictFormat is raised when rememberedVerdict changes.
const verdictFormat = 1

// exactly names a design and what is wanted of it, without any rounding.
func exactly(a ask) string {
	h := sha256.New()
	d := a.design
	fmt.Fprintln(h, proof.Model, verdictFormat, a.want)
	for _, s := range d.Profile.Stations() {
		fmt.Fprintln(h, s)
	}
	f := d.Flat
	fmt.Fprintln(h, f.From, f.To, f.RhoFrom, f.RhoTo, f.Sweep, f.Rect, f.ApexUp, f.Slant, f.Overlap, f.Hoop(0), f.Hoop(f.Slant), f.Left(), f.Right())
	for _, m := range d.Codes {
		fmt.Fprintln(h, m.N, m.Level, m.Text)
	}
	fmt.Fprintln(h, d.Module, d.Columns, d.Theta, d.S, d.Quiet, d.Film, d.Paint, d.Clear, d.Gloss, d.Printer.DPI, d.Printer.Gain, d.Printer.Reduction())
	return hex.EncodeToString(h.Sum(nil))
}

func (v *prover) remembered(a ask) (proof.Verdict, bool) {
	if v.cache == "" {
		return proof.Verdict{}, false
	}
	data, err := os.ReadFile(filepath.Join(v.cache, exactly(a)+".json"))
	if err != nil {
		return proof.Verdict{}, false // never made, or the folder is gone
	}
	var r rememberedVerdict
	if json.Unmarshal(data, &r) != nil || r.Format != verdictFormat || r.Model != proof.Model || len(r.Scores) == 0 {
		return proof.Verdict{}, false
	}
	return proof.Verdict{Grade: r.Grade, Scores: r.Scores}, true
}

// remember keeps a verdict; where that is not possible it is made again next time.
func (v *prover) remember(a ask, said proof.Verdict) {
	if v.cache == "" {
		return
	}
	data, err := json.Marshal(rememberedVerdict{verdictFormat, proof.Model, said.Grade, said.Scores})
	if err != nil || os.MkdirAll(v.cache, 0o755) != nil {
		return
	}
	f, err := os.CreateTemp(v.cache, ".verdict.*.part")
	if err != nil {
		return
	}
	_, err = f.Write(data)
	if e := f.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = os.Rename(f.Name(), filepath.Join(v.cache, exactly(a)+".json"))
	}
	if err != nil {
		_ = os.Remove(f.Name()) // nothing is lost
	}
}
