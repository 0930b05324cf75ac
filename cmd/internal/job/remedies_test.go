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
		{"black on clear film over dark paint", 4, changes{{"print/film", "a4-film-clear"}}, "contrast", []string{"pale", "white"}},
		{"words round a thin body", 3, changes{{"pattern/3/mark/1/turn", "round"}, {"pattern/3/mark/1/fit", nil}, {"pattern/3/mark/1/width_mm", nil}}, "no-fit", []string{"lengthwise"}},
		{"a low mark", 0, changes{{"pattern/0/mark", "least"}, {"pattern/0/mark_height_mm", 8.0}}, "no-fit", []string{"move"}},
		{"words left out", 4, changes{{"pattern/4/mark", "full"}}, "line-dropped", []string{"move"}},
		{"codes that must read anyhow", 0, changes{{"print/code", "anyhow"}, {"maker/host", "sluice-floats.example"}}, "code-on-card", []string{"square", "card"}},
		{"across a bend", 0, changes{{"pattern/0/mark", "least"}, {"pattern/0/mark_from_mm", 12.0}}, "split", []string{"move"}},
		{"a code on a thin body", 4, changes{{"pattern/4/mark", "full"}}, "code-on-card", []string{"card"}},
		{"no two alike", 4, changes{{"pattern/4/hand_made", true}}, "hand-made", []string{"part"}},
		{"a narrow gap", 3, changes{{"pattern/3/mark/0/fit", "butt"}, {"pattern/3/mark/0/seam_mm", 0.2}}, "seam", []string{"gap"}},
		{"a pale band", 0, changes{{"pattern/0/mark", []any{map[string]any{"show": []any{"band", "rating", "id"}, "at_mm": 28.0, "height_mm": 20.0}}},
			{"pattern/0/turn", nil}, {"pattern/0/mark_from_mm", nil}, {"pattern/0/mark_height_mm", nil}, {"rating/3/band", "#ffee88"}}, "band", []string{"band"}},
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

// The demonstration shows marks that nothing is the matter with.
func TestNoTroubles(t *testing.T) {
	shop, d := demoDraft(t)
	for _, i := range []int{0, 3, 4} {
		v, err := shop.PlanMark(context.Background(), d, i, false)
		if err != nil {
			t.Fatal(err)
		}
		if all, err := shop.Remedies(context.Background(), d, v); err != nil || len(all) != 0 {
			t.Errorf("%s: %+v, %v", v.Key, all, err)
		}
	}
}
