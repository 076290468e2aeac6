package design

import "loomsheet/harness/unit"

// MostVolts is the most between two places of a harness that the program judges. It is what the program is made for, not a limit of a job, so no
// setting moves it: above 60 V of direct current a touch can kill, and insulation, contacts and fuses follow other rules.
const MostVolts unit.Voltage = 60
