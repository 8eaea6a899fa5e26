package dxf

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"sort"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railwright/internal/peer"
	"railwright/internal/scene"
	"railwright/internal/scene/scenetest"
	"railwright/internal/typeface"
)

// entity is what the independent reader reports of one.
type entity struct {
	Type       string  `json:"type"`
	Layer      string  `json:"layer"`
	Text       string  `json:"text"`
	TextHeight float64 `json:"textHeight"`
	Rotation   float64 `json:"rotation"`
	Radius     float64 `json:"radius"`
	StartAngle float64 `json:"startAngle"`
	EndAngle   float64 `json:"endAngle"`
	Center     point   `json:"center"`
	StartPoint point   `json:"startPoint"`
	EndPoint   point   `json:"endPoint"`
	Vertices   []point `json:"vertices"`
	Points     []point `json:"points"`
}

type point struct{ X, Y, Bulge float64 }

type drawing struct {
	Entities []entity `json:"entities"`
	Tables   struct {
		Layer struct {
			Layers map[string]any `json:"layers"`
		} `json:"layer"`
	} `json:"tables"`
}

// read lets the npm package dxf-parser (MIT) read a file.
func read(t *testing.T, data []byte) drawing {
	t.Helper()
	parser := peer.Need(t, "dxf-parser")
	path := filepath.Join(t.TempDir(), "sheet.dxf")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	script := `const P=require(process.argv[1]);const D=P.default||P;` +
		`process.stdout.write(JSON.stringify(new D().parseSync(require("fs").readFileSync(process.argv[2],"utf8"))))`
	cmd := exec.Command("node", "-e", script, parser, path)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("the reader refused the file: %v: %s", err, stderr.Bytes())
	}
	var d drawing
	if err := json.Unmarshal(out, &d); err != nil {
		t.Fatalf("%v: %.200s", err, out)
	}
	return d
}

// Another program must find the same lines, circles, arcs and texts in the same places.
func TestAnotherReader(t *testing.T) {
	s := scenetest.Sample()
	d := read(t, Bytes(&s))
	var want, got []string
	s.Each(func(_ string, i *scene.Item) {
		switch {
		case i.Text != nil:
			want = append(want, "text "+i.Text.Words)
		case i.Circle != nil && i.Circle.Stroke.Width > 0:
			want = append(want, "circle "+spot(i.Circle.Center.X, s.Height-i.Circle.Center.Y)+" "+fixed(i.Circle.Radius))
		case i.Path != nil && len(i.Path.Points) == 2:
			p := i.Path.Points
			want = append(want, "line "+spot(p[0].X, s.Height-p[0].Y)+" "+spot(p[1].X, s.Height-p[1].Y))
		case i.Arc != nil:
			want = append(want, "arc "+spot(i.Arc.Center.X, s.Height-i.Arc.Center.Y)+" "+middle(i.Arc))
		}
	})
	for _, e := range d.Entities {
		switch {
		case e.Type == "TEXT":
			got = append(got, "text "+decode(e.Text))
		case e.Type == "CIRCLE":
			got = append(got, "circle "+spot(e.Center.X, e.Center.Y)+" "+fixed(e.Radius))
		case len(e.Vertices) == 2 && e.Vertices[0].Bulge == 0:
			v := e.Vertices
			got = append(got, "line "+spot(v[0].X, v[0].Y)+" "+spot(v[1].X, v[1].Y))
		case e.Type == "ARC":
			end := e.EndAngle
			if end < e.StartAngle {
				end += 2 * math.Pi
			}
			sin, cos := math.Sincos((e.StartAngle + end) / 2)
			got = append(got, "arc "+spot(e.Center.X, e.Center.Y)+" "+spot(e.Radius*cos, e.Radius*sin))
		}
	}
	sort.Strings(want)
	sort.Strings(got)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-scene +reader:\n%s", diff)
	}
	for _, l := range layerNames(&s) {
		if _, there := d.Tables.Layer.Layers[l]; !there {
			t.Errorf("layer %s is missing", l)
		}
	}
}

// middle is the point half way along an arc, from its centre, y up.
func middle(a *scene.Arc) string {
	sin, cos := math.Sincos((a.Start + a.Sweep/2) * math.Pi / 180)
	return spot(a.Radius*cos, -a.Radius*sin)
}

// A text begins and ends where the scene has it.
func TestTextEnds(t *testing.T) {
	s := scene.Sheet{ID: "x", Width: 100, Height: 50, Frame: scene.Rect{W: 100, H: 50}}
	p := scene.NewPen(&s)
	p.TextRight(90, 10, "right")
	p.TextUp(20, 40, scene.Left, "upwards")
	d := read(t, Bytes(&s))
	right, up := typeface.Width(typeface.Regular, "right", 2.5), typeface.Width(typeface.Regular, "upwards", 2.5)
	for i, want := range []string{spot(90-right, 40) + spot(90, 40), spot(20, 10) + spot(20, 10+up)} {
		e := d.Entities[i]
		if got := spot(e.StartPoint.X, e.StartPoint.Y) + spot(e.EndPoint.X, e.EndPoint.Y); got != want {
			t.Errorf("text %q from and to %s, want %s", e.Text, got, want)
		}
		if fixed(e.TextHeight) != fixed(2.5*typeface.CapHeight) {
			t.Errorf("height %v", e.TextHeight)
		}
	}
}

// fixed rounds to a hundredth; the small shift keeps half hundredths from going either way.
func fixed(v float64) string {
	return strings.Replace(strconv.FormatFloat(v+0.0007, 'f', 2, 64), "-0.00", "0.00", 1)
}

func spot(x, y float64) string { return "(" + fixed(x) + " " + fixed(y) + ")" }

var escaped = regexp.MustCompile(`\\U\+([0-9A-F]{4})`)

// decode is the reading of encode's codes, which the reader leaves as they are.
func decode(s string) string {
	s = escaped.ReplaceAllStringFunc(s, func(c string) string {
		n, _ := strconv.ParseInt(c[3:], 16, 32)
		return string(rune(n))
	})
	return strings.ReplaceAll(strings.ReplaceAll(s, "%%%", "%"), "^ ", "^")
}

// The triangles cover the polygon's area and nothing twice.
func TestTriangles(t *testing.T) {
	shapes := map[string][]scene.Point{
		"square":        {{X: 0, Y: 0}, {X: 4, Y: 0}, {X: 4, Y: 4}, {X: 0, Y: 4}},
		"other way":     {{X: 0, Y: 4}, {X: 4, Y: 4}, {X: 4, Y: 0}, {X: 0, Y: 0}},
		"notched":       {{X: 0, Y: 0}, {X: 4, Y: 0}, {X: 4, Y: 4}, {X: 2, Y: 1}, {X: 0, Y: 4}},
		"corner on way": {{X: 0, Y: 0}, {X: 2, Y: 0}, {X: 4, Y: 0}, {X: 4, Y: 4}, {X: 0, Y: 4}},
	}
	for name, shape := range shapes {
		sum := 0.0
		for _, tri := range triangles(shape) {
			sum += area(tri[:])
		}
		if math.Abs(sum-math.Abs(area(shape))) > 1e-9 {
			t.Errorf("%s: triangles of %v mm², polygon of %v", name, sum, area(shape))
		}
	}
}

func TestPlainSigns(t *testing.T) {
	s := scenetest.Sample()
	s.Layers[0].Name = "näme with spaces"
	for _, b := range Bytes(&s) {
		if b > '~' {
			t.Fatalf("byte %#x in the file", b)
		}
	}
	if got := encode("50 % ^ Ω\n"); got != `50 %%% ^  \U+03A9 ` {
		t.Errorf("encode = %q", got)
	}
}
