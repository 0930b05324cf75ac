package record

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"floatmark/loading/fault"
)

func TestBackup(t *testing.T) {
	s, path := fresh(t)
	must(t, s.SavePrint(job("k1"), []Float{float(1, "9KYA3C", `{}`)}))
	name := filepath.Join(t.TempDir(), "copy.db")
	must(t, os.WriteFile(name+".part", []byte("of a try that failed"), 0o600))
	sum, err := s.Backup(name)
	must(t, err)
	if sum.Latest != day1 || sum.Rows != 3 || sum.Schema != len(migrations()) {
		t.Errorf("%+v", sum)
	}
	changes(t, s, "bench", "", edit(one, "status", `"sold"`, 0))
	later, err := s.Summary()
	must(t, err)
	if later.Rows <= sum.Rows {
		t.Errorf("%+v after %+v", later, sum)
	}
	copied := open(t, name)
	if f, ok, err := copied.Float("9KYA3C"); !ok || err != nil {
		t.Errorf("%+v %v", f, err)
	}
	if state, _, err := copied.State(one); err != nil || len(state) != 0 {
		t.Errorf("the copy holds what came after it: %v %v", state, err)
	}
	if _, err := s.Backup(name); err != nil { // over the first one
		t.Error(err)
	}
	left, _ := filepath.Glob(filepath.Dir(name) + "/*.part*")
	if len(left) > 0 {
		t.Errorf("left: %v", left)
	}
	_, err = s.Backup(filepath.Join(path, "below a file"))
	class(t, err, fault.Machine)
}

func TestVerify(t *testing.T) {
	for schema := 1; schema <= len(migrations()); schema++ {
		path := filepath.Join(t.TempDir(), "workshop.db")
		copySample(t, schema, path)
		sum, err := Verify(path)
		if err != nil || sum.Schema != schema || sum.Key != "000102030405060708090a0b0c0d0e0f" || sum.Rows < 5 || sum.Latest != day2 {
			t.Errorf("schema %d: %+v %v", schema, sum, err)
		}
	}
	path := filepath.Join(t.TempDir(), "workshop.db")
	data := copySample(t, 7, path)
	const page = 4096
	for i := 9 * page; i < 12*page; i++ {
		data[i] = 0x55
	}
	must(t, os.WriteFile(path, data, 0o600))
	_, err := Verify(path)
	class(t, err, fault.Machine)
	must(t, os.WriteFile(path, data[:len(data)/2], 0o600))
	_, err = Verify(path)
	class(t, err, fault.Machine)
}

func TestReplace(t *testing.T) {
	s, path := fresh(t)
	must(t, s.SavePrint(job("k1"), []Float{float(1, "9KYA3C", `{}`)}))
	from := path + ".new"
	copySample(t, 3, from)
	err := Replace(path, from, path+".kept")
	class(t, err, fault.Machine)
	if !strings.Contains(err.Error(), "in use") {
		t.Error(err)
	}
	must(t, s.Close())
	must(t, Replace(path, from, path+".kept"))
	sampleHolds(t, open(t, path), 3)
	if f, ok, err := open(t, path+".kept").Float("9KYA3C"); !ok || err != nil {
		t.Errorf("the old one is lost: %+v %v", f, err)
	}
	if _, err := os.Stat(from); err == nil {
		t.Error("the copy is still there")
	}
}
