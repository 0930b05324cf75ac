package job

import (
	"bytes"
	"context"
	"errors"
	"image"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"floatmark/label"
	"floatmark/label/record"
	"floatmark/loading/fault"
)

// plainPages is a Site whose pages say what they rest on.
type plainPages struct {
	made  atomic.Int64
	fail  func(e label.Entry) error // nil for never
	style string
}

func (p *plainPages) Common() ([]SiteFile, error) {
	style := []byte("main{}" + p.style)
	return []SiteFile{{SharedName("files/style", "css", style), style}, {"index.html", []byte(siteMark + "entrance")}, {"404.html", []byte(siteMark + "missing")}}, nil
}

func (p *plainPages) Float(e label.Entry, b label.Build, photo func(int) string) (pages, with []SiteFile, err error) {
	p.made.Add(1)
	if p.fail != nil {
		if err := p.fail(e); err != nil {
			return nil, nil, err
		}
	}
	text := siteMark + p.style + e.ID + " " + string(b.Status) + " " + b.Buyer
	for _, one := range b.Photos {
		text += " " + photo(one.Value.Photo)
	}
	adds := []byte(e.Add)
	return []SiteFile{{"index.html", []byte(text)}, {"de/index.html", []byte(text + " de")}}, []SiteFile{{SharedName("files/adds", "js", adds), adds}}, nil
}

// publish publishes and fails the test where that does not work.
func publish(t *testing.T, w *Workshop, dir string, o Publishing) (Published, int64) {
	t.Helper()
	p := &plainPages{}
	out, err := w.Publish(t.Context(), dir, p, o)
	if err != nil {
		t.Fatal(err)
	}
	return out, p.made.Load()
}

// tree is what stands in a folder: content by place.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		rel, _ := filepath.Rel(dir, path)
		all[filepath.ToSlash(rel)] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func TestPublish(t *testing.T) {
	shop, ids := noted(t, 3)
	dir := filepath.Join(t.TempDir(), "site")
	out, _ := publish(t, shop, dir, Publishing{})
	all := tree(t, dir)
	id := ids[0]
	for _, name := range []string{"index.html", "404.html", siteListName, id + "/index.html", strings.ToLower(id) + "/index.html", id + "/de/index.html"} {
		if _, ok := all[name]; !ok {
			t.Errorf("there is no %s", name)
		}
	}
	if all[id+"/index.html"] != all[strings.ToLower(id)+"/index.html"] || !out.BothCases || out.Floats != 3 || out.Same != 0 || out.Written != len(all)-1 {
		t.Errorf("%+v with %d files", out, len(all))
	}
	var bytes int64
	for name, text := range all {
		if name != siteListName {
			bytes += int64(len(text))
		}
		if strings.HasSuffix(name, tempEnd) {
			t.Errorf("%s was left", name)
		}
	}
	if out.Bytes != bytes {
		t.Errorf("%d bytes were told, %d are there", out.Bytes, bytes)
	}

	// Once more: nothing is made and nothing is written.
	again, made := publish(t, shop, dir, Publishing{})
	if made != 0 || again.Written != 0 || again.Same != out.Written || again.Bytes != out.Bytes || !maps.Equal(all, tree(t, dir)) {
		t.Errorf("once more: %d made, %+v", made, again)
	}

	// One float changes, and its pages alone are written.
	set(t, shop, ofFloat(id), label.PathStatus, label.Retired)
	one, made := publish(t, shop, dir, Publishing{})
	if made != 1 || one.Written != 3 || !strings.Contains(tree(t, dir)[id+"/index.html"], string(label.Retired)) {
		t.Errorf("%d made, %+v", made, one)
	}
	// What is not published changes no file.
	set(t, shop, ofFloat(id), label.PathBuyer, "somebody")
	if kept, _ := publish(t, shop, dir, Publishing{}); kept.Written != 0 || strings.Contains(tree(t, dir)[id+"/index.html"], "somebody") {
		t.Errorf("%+v", kept)
	}
}

// A disc that ignores case gets each id once; a site that was moved there loses
// nothing.
func TestPublishWhereCaseIsIgnored(t *testing.T) {
	shop, ids := noted(t, 2)
	for _, first := range []bool{true, false} {
		dir := t.TempDir()
		ignores := func(string) (bool, error) { return true, nil }
		if !first {
			publish(t, shop, dir, Publishing{})
			// The disc has one folder for both.
			for _, id := range ids {
				if err := os.RemoveAll(filepath.Join(dir, strings.ToLower(id))); err != nil {
					t.Fatal(err)
				}
			}
		}
		out, _ := publish(t, shop, dir, Publishing{IgnoresCase: ignores})
		all := tree(t, dir)
		if out.BothCases || out.Removed != 0 || all[ids[0]+"/index.html"] == "" || all[strings.ToLower(ids[0])+"/index.html"] != "" {
			t.Errorf("%+v %v", out, slices.Sorted(maps.Keys(all)))
		}
		// Back on a disc that tells them apart.
		if out, _ = publish(t, shop, dir, Publishing{}); !out.BothCases || tree(t, dir)[strings.ToLower(ids[0])+"/index.html"] == "" {
			t.Errorf("%+v", out)
		}
	}
	if one, err := ignoresCase(t.TempDir()); err != nil || one {
		t.Skip("this disc ignores case, or cannot be asked")
	}
}

// Files of somebody else's are never written over, and nothing is written then.
func TestPublishBesideOthers(t *testing.T) {
	shop, ids := noted(t, 1)
	for _, name := range []string{"index.html", ids[0] + "/index.html", strings.ToLower(ids[0]) + "/index.html", ids[0] + "/de/index.html", ids[0]} {
		dir := t.TempDir()
		path := filepath.Join(dir, name)
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o755), os.WriteFile(path, []byte("mine"), 0o644)); err != nil {
			t.Fatal(err)
		}
		before := tree(t, dir)
		_, err := shop.Publish(t.Context(), dir, &plainPages{}, Publishing{})
		if fault.ClassOf(err) != fault.Input || !maps.Equal(before, tree(t, dir)) {
			t.Errorf("%s: %v, then %v", name, err, tree(t, dir))
		}
	}
	// Beside pages they stay where they are, also when pages go.
	dir := t.TempDir()
	for _, name := range []string{"shop.html", "files/logo.png", ids[0] + "/note.txt", "files/mine-0123456789abcdef.css"} {
		path := filepath.Join(dir, name)
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o755), os.WriteFile(path, []byte("mine"), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	publish(t, shop, dir, Publishing{})
	out, _ := publish(t, emptied(t), dir, Publishing{})
	all := tree(t, dir)
	if all["shop.html"] != "mine" || all["files/logo.png"] != "mine" || all[ids[0]+"/note.txt"] != "mine" || all["files/mine-0123456789abcdef.css"] != "mine" {
		t.Errorf("%v", all)
	}
	if out.Floats != 0 || all[ids[0]+"/index.html"] != "" || all[ids[0]+"/de/index.html"] != "" || out.Removed != 4 {
		t.Errorf("%+v %v", out, slices.Sorted(maps.Keys(all)))
	}
	// A link that leads out of the folder is not followed.
	dir, outside := t.TempDir(), t.TempDir()
	if err := os.Symlink(outside, filepath.Join(dir, ids[0])); err != nil {
		t.Skip(err)
	}
	if _, err := shop.Publish(t.Context(), dir, &plainPages{}, Publishing{}); fault.ClassOf(err) != fault.Input || len(tree(t, outside)) > 0 {
		t.Errorf("%v %v", err, tree(t, outside))
	}
	// The workshop's own folder would be uploaded with all that is in it.
	if _, err := shop.Publish(t.Context(), shop.Dir, &plainPages{}, Publishing{}); fault.ClassOf(err) != fault.Input {
		t.Error(err)
	}
}

// emptied is a workshop of the same maker with no float, as an older backup has.
func emptied(t *testing.T) *Workshop {
	t.Helper()
	w, err := Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	s, err := record.Open(filepath.Join(w.Dir, recordsFile))
	if err == nil {
		err = s.Close()
	}
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// A page that somebody changed stays when its float is no longer published.
func TestPublishedAndChanged(t *testing.T) {
	shop, ids := noted(t, 1)
	dir := t.TempDir()
	publish(t, shop, dir, Publishing{})
	path := filepath.Join(dir, ids[0], "index.html")
	if err := os.WriteFile(path, []byte("changed by hand"), 0o644); err != nil {
		t.Fatal(err)
	}
	publish(t, emptied(t), dir, Publishing{})
	if all := tree(t, dir); all[ids[0]+"/index.html"] != "changed by hand" || all[ids[0]+"/de/index.html"] != "" {
		t.Errorf("%v", all)
	}
}

// A run that breaks off leaves pages that are whole, and the next one ends the
// work. Files of another length are seen as spoilt, others by comparing.
func TestPublishBrokenOff(t *testing.T) {
	shop, ids := noted(t, 12)
	whole := t.TempDir()
	publish(t, shop, whole, Publishing{})
	want := tree(t, whole)
	for _, stopAt := range []int{0, 1, 5, 11} {
		dir := t.TempDir()
		failing := &plainPages{fail: func(e label.Entry) error {
			if e.ID == ids[stopAt] {
				return fault.New(fault.Ours, "", "broken off", "")
			}
			return nil
		}}
		if _, err := shop.Publish(t.Context(), dir, failing, Publishing{}); err == nil {
			t.Fatal("it did not break off")
		}
		for name, text := range tree(t, dir) {
			if name != siteListName && text != want[name] {
				t.Errorf("%s is %q and not %q", name, text, want[name])
			}
		}
		publish(t, shop, dir, Publishing{})
		if got := tree(t, dir); !maps.Equal(got, want) {
			t.Errorf("after breaking off at %d: %v", stopAt, slices.Sorted(maps.Keys(got)))
		}
		// A list that was lost, and a page that a power cut emptied.
		if err := errors.Join(os.Remove(filepath.Join(dir, siteListName)), replace(filepath.Join(dir, ids[3], "index.html"), nil)); err != nil {
			t.Fatal(err)
		}
		out, _ := publish(t, shop, dir, Publishing{})
		if got := tree(t, dir); !maps.Equal(got, want) || out.Written != 1 {
			t.Errorf("without a list: %+v", out)
		}
	}
	// Spoilt, with the same length.
	path := filepath.Join(whole, ids[2], "index.html")
	data := bytes.Repeat([]byte("x"), len(want[ids[2]+"/index.html"]))
	if err := replace(path, data); err != nil {
		t.Fatal(err)
	}
	if out, _ := publish(t, shop, whole, Publishing{}); out.Written != 0 {
		t.Errorf("%+v", out)
	}
	if out, _ := publish(t, shop, whole, Publishing{Compare: true}); out.Written != 1 || !maps.Equal(tree(t, whole), want) {
		t.Errorf("%+v", out)
	}
	stopped, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := shop.Publish(stopped, t.TempDir(), &plainPages{}, Publishing{}); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

// replace puts another file in a file's place; one that has a second name keeps it
// there.
func replace(path string, data []byte) error {
	return errors.Join(os.Remove(path), os.WriteFile(path, data, 0o644))
}

// Photographs are there while they are published, and go when they are not.
func TestPublishedPhotographs(t *testing.T) {
	shop, ids := noted(t, 2)
	picture := jpegFile(t, image.NewGray(image.Rect(0, 0, 40, 30)), nil)
	if _, err := shop.AddPhoto(t.Context(), ofFloat(ids[0]), bytes.NewReader(picture), "tip", "", ByBench, ""); err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	photos := func() (n int) {
		for name := range tree(t, dir) {
			if strings.HasPrefix(name, "files/photo-") {
				n++
			}
		}
		return n
	}
	publish(t, shop, dir, Publishing{})
	if photos() != 0 {
		t.Error("a photograph stands on the site that nobody published")
	}
	set(t, shop, ofFloat(ids[0]), label.Publishing(label.GroupPhotos), true)
	publish(t, shop, dir, Publishing{})
	if text := tree(t, dir)[ids[0]+"/index.html"]; photos() != 1 || !strings.Contains(text, "files/photo-") {
		t.Errorf("%d photographs; %s", photos(), text)
	}
	set(t, shop, ofFloat(ids[0]), label.Publishing(label.GroupPhotos), false)
	if out, _ := publish(t, shop, dir, Publishing{}); photos() != 0 || out.Removed != 1 {
		t.Errorf("%d photographs are left, %+v", photos(), out)
	}
}

// A list of a later program is not touched.
func TestPublishedByAnother(t *testing.T) {
	shop, _ := noted(t, 1)
	for _, text := range []string{`{"format":9}`, "my list", "{}"} {
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, siteListName), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		if _, err := shop.Publish(t.Context(), dir, &plainPages{}, Publishing{}); fault.ClassOf(err) != fault.Input || len(tree(t, dir)) != 1 {
			t.Errorf("%s: %v", text, err)
		}
	}
	none, err := Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := none.Publish(t.Context(), t.TempDir(), &plainPages{}, Publishing{}); fault.ClassOf(err) != fault.NotFound {
		t.Error(err)
	}
}

// What a killed run left at the top of the folder is swept, and nothing of other
// names.
func TestSweep(t *testing.T) {
	dir := t.TempDir()
	keep := []string{"JPPHHE.html" + tempEnd, "notes.txt", probeName + "1", siteLock}
	for _, name := range append([]string{probeName + "1" + tempEnd, siteLock + "-a" + tempEnd}, keep...) {
		if err := os.WriteFile(filepath.Join(dir, name), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	root, err := os.OpenRoot(dir)
	if err == nil {
		err = sweep(root)
	}
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	left := slices.Collect(maps.Keys(tree(t, dir)))
	if slices.Sort(left); !slices.Equal(left, slices.Sorted(slices.Values(keep))) {
		t.Errorf("left are %q, want %q", left, keep)
	}
}
