package job

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"floatmark/cmd/internal/batch"
)

// changes are paths and what is put there.
type changes []struct {
	path string
	v    any
}

func changed(t testing.TB, shop *Workshop, d Draft, list changes) Draft {
	t.Helper()
	d, err := shop.EditDraft(context.Background(), d.Name, Unseen, "change", ByBench, func(doc *batch.Doc) error {
		for _, c := range list {
			if err := doc.Set(c.path, c.v); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// Every remedy that is offered takes its notice away when it is done, and says in
// a whole sentence what it will do.
func TestRemediesHelp(t *testing.T) {
	ctx := context.Background()
	for _, c := range []struct {
		name    string
		pattern int
		set     changes
		code    string   // the trouble
		want    []string // kinds of remedies among those offered
	}{
		{"black on clear film over dark paint", 0, changes{{"print/film", "a4-film-clear"}}, "contrast", []string{"pale", "white"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			shop, d := demoDraft(t)
			d = changed(t, shop, d, c.set)
			v, err := shop.PlanMark(ctx, d, c.pattern, false)
			if err != nil {
				t.Fatal(err)
			}
			all, err := shop.Remedies(ctx, d, v)
			if err != nil {
				t.Fatal(err)
			}
			i := slices.IndexFunc(all, func(tr Trouble) bool { return tr.Code == c.code })
			if i < 0 {
				t.Fatalf("no trouble %q among %+v", c.code, all)
			}
			var kinds []string
			for _, r := range all[i].Remedies {
				kinds = append(kinds, r.Key)
				if said := fmt.Sprintf(r.Says, anyOf(r.Args)...); strings.Contains(said, "%!") || said == "" {
					t.Errorf("it says %q", said)
				}
			}
			t.Log(all[i].Text, kinds)
			for _, k := range c.want {
				if !slices.ContainsFunc(kinds, func(s string) bool {
					return s == k || strings.Contains(s+":", ":"+k+":") || strings.HasPrefix(s, k+":")
				}) {
					t.Errorf("of %q there is no %q", kinds, k)
				}
			}
			for _, tr := range all {
				for _, r := range tr.Remedies {
					again, err := v.Remedy(d, r.Key)
					if err != nil {
						t.Fatal(err)
					}
					done, err := shop.EditDraft(ctx, d.Name, Unseen, r.Says, ByBench, again.Edit)
					if err != nil || done.Err != nil {
						t.Fatal(r.Key, err, done.Err)
					}
					after, err := shop.PlanMark(ctx, done, c.pattern, false)
					if err != nil || after.Err != nil {
						t.Fatal(r.Key, err, after.Err)
					}
					if slices.Contains(codesOf(after.Troubles()), tr.Code) {
						t.Errorf("%s leaves %q", r.Key, tr.Code)
					}
					if _, err := shop.UndoDraft(ctx, d.Name, done.Version, ByBench); err != nil {
						t.Fatal(err)
					}
				}
			}
		})
	}
}

func anyOf(list []string) (out []any) {
	for _, s := range list {
		out = append(out, s)
	}
	return out
}

// What troubles the marks of the demonstration have, to be looked at.
func TestTroublesOfDemo(t *testing.T) {
	shop, d := demoDraft(t)
	for i := range d.Doc.Len("pattern") {
		v, err := shop.PlanMark(context.Background(), d, i, false)
		if err != nil {
			t.Fatal(err)
		}
		all, err := shop.Remedies(context.Background(), d, v)
		if err != nil {
			t.Fatal(err)
		}
		for _, tr := range all {
			t.Log(v.Key, tr.Code, tr.Text)
			for _, r := range tr.Remedies {
				t.Log("    ", r.Key, fmt.Sprintf(r.Says, anyOf(r.Args)...))
			}
		}
	}
}
