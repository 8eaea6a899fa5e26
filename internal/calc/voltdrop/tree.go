package voltdrop

import (
	"fmt"
	"math"

	"railwright/internal/calc"
	"railwright/internal/quantity"
)

// Load is what is taken at a node: any sum of a constant current, a constant power and a
// resistance. The zero Load takes nothing; Resistance 0 means "no resistor".
type Load struct {
	Current    quantity.Current
	Power      quantity.Power
	Resistance quantity.Resistance
}

// linear returns the load near voltage u as a conductance and a constant current: exact for
// current and resistance, the tangent for power.
func (l Load) linear(u float64) (conductance, current float64) {
	current = float64(l.Current) + 2*float64(l.Power)/u
	conductance = -float64(l.Power) / (u * u)
	if l.Resistance > 0 {
		conductance += 1 / float64(l.Resistance)
	}
	return conductance, current
}

// Branch is one piece of feeder with the load at its far end.
type Branch struct {
	Parent int                 // index of the branch whose far end feeds this one; -1: the source
	Loop   quantity.Resistance // both cores, contacts if wanted
	Load   Load
}

// Node is the answer for one branch's far end.
type Node struct {
	Voltage quantity.Voltage
	Current quantity.Current // through the branch: its load and all behind it
}

// Step is one piece of a chain: one-way length, resistance of one core, contact resistance of the
// whole piece, and the steady current taken at its far end.
type Step struct {
	Length    quantity.Length
	PerLength quantity.ResistancePerLength
	Contacts  quantity.Resistance
	Current   quantity.Current
}

func (s Step) loop() (quantity.Resistance, error) {
	r, err := LoopResistance(s.Length, s.PerLength)
	return r + s.Contacts, firstError(err, calc.Resistance("contact resistance", s.Contacts), calc.Current("current", s.Current))
}

// Chain returns the voltage and the current of each step of one feeder that goes from load to
// load: from supply group to supply group, or from device to device. One Node per step, nearest
// the source first; the current of a node is the sum of its own load and all behind it.
//
//	U_k = U_(k-1) - (2 l_k r_k + R_contacts) * sum of I_j for j >= k
//
// A negative voltage says that the load cannot be fed; it is no error. Errors name the step.
//
// Source: Kirchhoff's laws.
func Chain(source quantity.Voltage, steps []Step) ([]Node, error) {
	branches := make([]Branch, len(steps))
	for k, s := range steps {
		loop, err := s.loop()
		if err != nil {
			return nil, fmt.Errorf("step %d: %w", k+1, err)
		}
		branches[k] = Branch{Parent: k - 1, Loop: loop, Load: Load{Current: s.Current}}
	}
	return Tree(source, branches)
}

// Star returns the voltage and the current at the end of each of several feeders from one point,
// which itself hangs at the source over a common piece (Step{} if none; its own current is taken
// at the star point). The first Node is the star point, then one per branch in their order.
//
// Source: Kirchhoff's laws.
func Star(source quantity.Voltage, common Step, steps []Step) ([]Node, error) {
	branches := make([]Branch, 0, len(steps)+1)
	if common != (Step{}) {
		loop, err := common.loop()
		if err != nil {
			return nil, fmt.Errorf("common piece: %w", err)
		}
		branches = append(branches, Branch{Parent: -1, Loop: loop, Load: Load{Current: common.Current}})
	} else {
		branches = append(branches, Branch{Parent: -1})
	}
	for k, s := range steps {
		loop, err := s.loop()
		if err != nil {
			return nil, fmt.Errorf("branch %d: %w", k+1, err)
		}
		branches = append(branches, Branch{Parent: 0, Loop: loop, Load: Load{Current: s.Current}})
	}
	return Tree(source, branches)
}

// Tree returns the voltage at the far end of each branch of any tree-shaped feeder and the current
// through it, one Node per branch in their order. A branch's parent must stand before it.
//
// Currents and resistances are solved exactly in one pass, powers by Newton's method until no
// voltage moves by more than a nanovolt; ErrCollapse says that they cannot be fed. With constant
// currents a voltage may come out negative, which is for the caller to judge.
//
// Source: Kirchhoff's laws; each branch's subtree is replaced by its equivalent conductance and
// current (Norton), from the far ends inwards.
func Tree(source quantity.Voltage, branches []Branch) ([]Node, error) {
	if err := checkTree(source, branches); err != nil {
		return nil, err
	}
	nodes := make([]Node, len(branches))
	newton := false
	for k, b := range branches {
		nodes[k].Voltage = source
		newton = newton || b.Load.Power > 0
	}
	for range 200 {
		moved, ok := sweep(source, branches, nodes)
		if !ok {
			return nil, ErrCollapse
		}
		if !newton || moved < 1e-9 {
			return nodes, nil
		}
	}
	return nil, ErrCollapse
}

// sweep solves the tree with every load linear near its node's voltage. It returns the largest
// change of a voltage, and false if loads of constant power outrun the feeder.
func sweep(source quantity.Voltage, branches []Branch, nodes []Node) (moved float64, ok bool) {
	g := make([]float64, len(branches)) // conductance and current of the subtree at the far end
	j := make([]float64, len(branches))
	for k := len(branches) - 1; k >= 0; k-- {
		b := branches[k]
		cond, cur := b.Load.linear(float64(nodes[k].Voltage))
		g[k], j[k] = g[k]+cond, j[k]+cur
		weight := 1 + float64(b.Loop)*g[k]
		if weight <= 0 {
			return 0, false
		}
		if b.Parent >= 0 {
			g[b.Parent] += g[k] / weight
			j[b.Parent] += j[k] / weight
		}
	}
	for k, b := range branches {
		before := source
		if b.Parent >= 0 {
			before = nodes[b.Parent].Voltage
		}
		i := (g[k]*float64(before) + j[k]) / (1 + float64(b.Loop)*g[k])
		u := before - quantity.Current(i).Through(b.Loop)
		if b.Load.Power > 0 && u <= 0 {
			return 0, false
		}
		moved = math.Max(moved, math.Abs(float64(u-nodes[k].Voltage)))
		nodes[k] = Node{Voltage: u, Current: quantity.Current(i)}
	}
	return moved, true
}

func checkTree(source quantity.Voltage, branches []Branch) error {
	errs := []error{calc.PositiveVoltage("source voltage", source)}
	for k, b := range branches {
		err := firstError(
			calc.Count("parent", b.Parent, -1, k-1),
			calc.Resistance("loop resistance", b.Loop),
			calc.Current("load current", b.Load.Current),
			calc.Power("load power", b.Load.Power),
			calc.Resistance("load resistance", b.Load.Resistance))
		if err != nil {
			errs = append(errs, fmt.Errorf("branch %d: %w", k+1, err))
		}
	}
	return firstError(errs...)
}
