package job

import (
	"bytes"
	"fmt"
	"image/png"
	"os"
	"path/filepath"
	"slices"

	"floatmark/layouts/proof"
)

// CodePictures are the phone pictures on which codes of the plan did not read, as
// PNG, of every size that was tried: made only where Workshop.Pictures asks for
// them. A file is named by the float that stands for its design and by how the
// phone was held, in degrees.
func (p *Plan) CodePictures() ([]Output, error) {
	var all []Output
	for _, one := range p.prover.tried {
		for _, pic := range p.prover.known[one.key].Pictures {
			var buf bytes.Buffer
			if err := png.Encode(&buf, pic.Image); err != nil {
				return nil, err
			}
			all = append(all, output(fmt.Sprintf("float-%d-%s-%s-yaw%+.0f-pitch%+.0f-at-%.0f-mm.png", one.number, sizeName(one.design),
				pic.Grade, pic.Pose.Yaw, pic.Pose.Pitch, pic.Pose.Distance), buf.Bytes()))
		}
	}
	// Two poses may be named alike; the second picture would replace the first.
	seen := map[string]int{}
	for i := range all {
		if seen[all[i].Name]++; seen[all[i].Name] > 1 {
			all[i].Name = fmt.Sprintf("%s-%d.png", all[i].Name[:len(all[i].Name)-len(".png")], seen[all[i].Name])
		}
	}
	return all, nil
}

func sizeName(d proof.Design) string {
	name := fmt.Sprintf("%d-dots", d.Printer.Dots(d.Module))
	if d.Columns != nil {
		name += "-widened"
	}
	return name
}

// SaveCodePictures writes CodePictures into a folder, which is made, all of them
// or none.
func (p *Plan) SaveCodePictures(dir string) ([]Output, error) {
	all, err := p.CodePictures()
	if err != nil || len(all) == 0 {
		return nil, err
	}
	made, err := makeDirs(dir)
	if err != nil {
		return nil, err
	}
	temps := make([]string, len(all))
	undo := func() {
		for _, t := range slices.DeleteFunc(temps, func(t string) bool { return t == "" }) {
			_ = os.Remove(t) // the first error is the one to tell
		}
		removeDirs(made)
	}
	for i, o := range all {
		if temps[i], err = writeTemp(dir, o); err != nil {
			undo()
			return nil, err
		}
	}
	for i, o := range all {
		if err := os.Rename(temps[i], filepath.Join(dir, o.Name)); err != nil {
			undo()
			return nil, machine(filepath.Join(dir, o.Name), "cannot be put in place", err)
		}
	}
	return all, nil
}
