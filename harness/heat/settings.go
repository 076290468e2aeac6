package heat

import (
	"sync"

	"loomsheet/harness/design"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

// settings reads what a job says once: its settings by scope, its air, its starts. Several may read at a time.
type settings struct {
	job      *design.Job
	mu       sync.RWMutex
	plain    map[string]*design.SettingValue // of settings that no line scopes; nil of the others
	margin   float64                         // heat-margin, where no line scopes it
	scoped   bool                            // one does
	ampacity string                          // where no line scopes it
	tables   bool                            // one does
	rules    *design.Rulings
	airs     map[design.Scope]unit.Temperature
	starts   map[string]unit.Time
	sleeves  map[string]string // by run
	engines  map[string]bool   // by zone
	families map[string]bool   // whether a family's figures are verified
	said     map[TableResult]*TableResult
}

func newSettings(job *design.Job) *settings {
	s := &settings{job: job, plain: map[string]*design.SettingValue{}, rules: design.NewRulings(&job.Settings), airs: map[design.Scope]unit.Temperature{},
		starts: map[string]unit.Time{}, sleeves: map[string]string{}, engines: map[string]bool{}, families: map[string]bool{}, said: map[TableResult]*TableResult{}}
	for _, name := range []string{"air", "altitude", "ampacity", "bundle-conductivity", "emissivity", "heat-margin", "insulation-conductivity", "sleeve-wall"} {
		v := job.Settings.Get(name, design.Scope{}).Value
		s.plain[name] = &v
	}
	for i := range job.Settings.Lines {
		if l := &job.Settings.Lines[i]; len(l.Scope) > 0 {
			s.plain[l.Name] = nil
		}
	}
	if v := s.plain["heat-margin"]; v != nil {
		s.margin = v.Quantity.Value
	} else {
		s.scoped = true
	}
	if v := s.plain["ampacity"]; v != nil {
		s.ampacity = v.Name
	} else {
		s.tables = true
	}
	for _, d := range job.Devices {
		for i := range d.Draws {
			if d.Draws[i].Start.Given {
				s.starts[d.Name] = max(s.starts[d.Name], d.Draws[i].StartFor)
			}
		}
		for i := range d.Coils {
			if d.Coils[i].Start.Given {
				s.starts[d.Name] = max(s.starts[d.Name], d.Coils[i].StartFor)
			}
		}
	}
	for _, r := range job.Runs {
		s.sleeves[r.Name] = r.Sleeve
	}
	for _, z := range job.Zones {
		for _, w := range z.With {
			s.engines[z.Name] = s.engines[z.Name] || w == "engine-space"
		}
	}
	for _, w := range job.Parts.Wires {
		if _, twice := s.families[w.Name]; !twice {
			s.families[w.Name] = size.Verified(w.Source)
		}
	}
	return s
}

func (s *settings) get(name string, at design.Scope) design.SettingValue {
	if v := s.plain[name]; v != nil {
		return *v
	}
	return s.rules.Get(name, at).Value
}

func (s *settings) number(name string, at design.Scope) float64 {
	if v := s.plain[name]; v != nil {
		return v.Quantity.Value
	}
	return s.get(name, at).Quantity.Value
}

// ambient is Ambient.
func (s *settings) ambient(at design.Scope) unit.Temperature {
	if s.plain["air"] != nil {
		at = design.Scope{Zone: at.Zone, Case: at.Case}
	}
	s.mu.RLock()
	t, ok := s.airs[at]
	s.mu.RUnlock()
	if !ok {
		t, _ = Ambient(s.job, at)
		s.mu.Lock()
		s.airs[at] = t
		s.mu.Unlock()
	}
	return t
}

// once is what a table says, the same for all wires of which it says the same.
func (s *settings) once(t *TableResult) *TableResult {
	if t == nil {
		return nil
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.said[*t] == nil {
		s.said[*t] = t
	}
	return s.said[*t]
}

// startTime is how long a device draws its starting current: the longest of its draws and coils; 0 where none says.
func (s *settings) startTime(device string) unit.Time { return s.starts[device] }

// runSleeve is the sleeve over a run; empty for none.
func (s *settings) runSleeve(run string) string { return s.sleeves[run] }

// engine tells whether a zone is an engine space.
func (s *settings) engine(zone string) bool { return s.engines[zone] }

// verified tells whether the figures of a family of wires are.
func (s *settings) verified(family string) bool { return s.families[family] }
