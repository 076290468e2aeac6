package design

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

// Device is anything with pins.
type Device struct {
	Name string
	Spot
	Section string // it comes away with; empty: that of the run there
	Zone    string
	Class   string
	Panel   string
	Faces   Spot // where the wire side of its plug looks; not Known: along the run that leaves it
	Fitted  bool // its plugs come on their wires, moulded or crimped by their maker: nothing is slid on after them
	// Pattern is set for a device without a place that others are like: it is no part of the job.
	Pattern  bool
	Housings []DeviceHousing
	Pins     []Pin // declared ones, the cavities nobody named, and inner joints
	Bolted   []string
	Supplies []Supply
	Draws    []Draw
	Coils    []Coil
	States   []State
	Joins    []Joins
	Fuses    []DeviceFuse
	Diodes   []Diode
	Reads    []Reads
	Common
}

// DeviceHousing is one housing of a device.
type DeviceHousing struct {
	Part string
	As   string // prefix of its cavities
	Key  string
	Boot string // over its back; empty: that of the housing
	Spot        // Known when it sits elsewhere than the device
	Span diag.Span
}

// Pin is a terminal of a device.
type Pin struct {
	Name    string
	Housing int    // index into Housings; -1 for a stud or an inner joint
	Cavity  string // of that housing, without its prefix
	Stud    string // thread; takes lugs and may hold several circuits
	Torque  unit.Torque
	Spot    // Known when it sits elsewhere than the device
	Panel   string
	Inner   bool // nobody can reach it
	Unused  bool // left empty on purpose
	Span    diag.Span
}

// Supply is a source between two pins.
type Supply struct {
	Volts    Fact[unit.Voltage]
	Inside   Fact[unit.Resistance]
	Most     Fact[unit.Current]
	Stores   Fact[unit.Charge] // of a battery, full
	From, To PinRef            // plus, minus
	Span     diag.Span
}

// LoadKind is how a load answers to volts.
type LoadKind uint8

// Kinds of load.
const (
	ConstantCurrent LoadKind = iota
	ConstantPower
	ConstantResistance
)

func (k LoadKind) String() string { return [...]string{"current", "power", "resistance"}[k] }

// Draw is a load between two pins. Exactly one of Amps, Watts, Ohms is given.
type Draw struct {
	Amps      Fact[unit.Current]
	Watts     Fact[unit.Power]
	Ohms      Fact[unit.Resistance]
	At        Fact[unit.Voltage] // volts it was measured at
	As        LoadKind
	From, To  PinRef // plus, minus
	Start     Fact[unit.Current]
	StartFor  unit.Time
	On, Off   unit.Time // duty; On 0 is continuous, On without Off happens once
	Peak      Fact[unit.Current]
	Least     Fact[unit.Voltage] // still works
	Tolerance unit.Ratio
	Span      diag.Span
}

// Runs is the least current that the load says it runs at, and from what it follows, in words; watts and ohms at the volts it was measured at, for
// which at stands where it says none. 0 where they are not known.
func (d *Draw) Runs(at unit.Voltage) (amps unit.Current, how string) {
	if d.At.Given {
		at = d.At.Nominal
	}
	switch {
	case d.Amps.Given:
		return min(d.Amps.Nominal, d.Amps.Low), ""
	case !(at > 0):
	case d.Watts.Given:
		w := min(d.Watts.Nominal, d.Watts.Low)
		return unit.Current(float64(w) / float64(at)), fmt.Sprintf("%s at %s.", w, at)
	case d.Ohms.Given:
		if r := max(d.Ohms.Nominal, d.Ohms.High); r > 0 {
			return unit.Current(float64(at) / float64(r)), fmt.Sprintf("%s at %s.", r, at)
		}
	}
	return 0, ""
}

// Coil moves a state of its own device.
type Coil struct {
	Draw
	Moves   StateRef
	PullIn  Fact[unit.Voltage]
	DropOut Fact[unit.Voltage]
}

// StateRef names a state; Group is empty for a device with one set of states.
type StateRef struct{ Group, State string }

// String is the state as written: group.state or state.
func (s StateRef) String() string {
	if s.Group != "" {
		return s.Group + "." + s.State
	}
	return s.State
}

// State is one contact that is closed in a state; a state may have several.
type State struct {
	StateRef
	Pins       []string
	Resistance Fact[unit.Resistance]
	Rating     Fact[unit.Current]
	Span       diag.Span
}

// Joins is pins always joined; three or more are a star with Resistance in each arm.
type Joins struct {
	Pins       []string
	Resistance Fact[unit.Resistance]
	Span       diag.Span
}

// DeviceFuse is a fuse between two pins.
type DeviceFuse struct {
	Part     string
	From, To string
	Span     diag.Span
}

// Diode conducts from From to To.
type Diode struct {
	Forward  Fact[unit.Voltage]
	From, To string
	Span     diag.Span
}

// Reads scales a sensor: per volt between signal and reference pin.
type Reads struct {
	Value    unit.Quantity
	Per      unit.Voltage
	From, To string
	Span     diag.Span
}

// Moves is the state that one of its coils moves: the one it names, else the only one the device has besides off; empty where it has several.
func (d *Device) Moves(c *Coil) StateRef {
	if c.Moves.State != "" {
		return c.Moves
	}
	var only StateRef
	for _, s := range d.States {
		if s.State == "off" || s.StateRef == only {
			continue
		}
		if only.State != "" {
			return StateRef{}
		}
		only = s.StateRef
	}
	return only
}
