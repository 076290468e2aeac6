package sense

// needed lists for each word the options that cannot be left out; of a group one is enough. What can come from `like`, or depends
// on the rest of the job, is checked where the thing is built.
var needed = map[string][][]string{
	"set":            {{"to"}},
	"panel":          {{"corners", "points", "like"}, {"zone", "like"}},
	"tube":           {{"from", "like"}, {"outside", "like"}},
	"point":          {{"at"}},
	"cable":          {{"holds"}},
	"removal":        {{"section"}, {"undo"}},
	"template":       {{"takes"}},
	"accept":         {{"run", "circuit", "device", "break", "splice", "cable", "panel", "section", "hazard", "hole"}, {"reason"}, {"by"}, {"until"}},
	"cavity":         {{"circuit", "spare"}},
	"label":          {{"circuit"}, {"from"}, {"to"}},
	"stock":          {{"length"}},
	"seat":           {{"along"}, {"after"}},
	"hole":           {{"at"}},
	"fixing":         {{"run"}, {"after"}},
	"case zone":      {{"air"}},
	"device supply":  {{"from"}, {"to"}},
	"device draw":    {{"from"}, {"to"}},
	"device coil":    {{"from"}, {"to"}},
	"device fuse":    {{"from"}, {"to"}},
	"device diode":   {{"from"}, {"to"}},
	"device reads":   {{"per"}, {"from"}, {"to"}},
	"run from":       {{"to"}},
	"circuit from":   {{"to"}},
	"contact":        {{"rating"}},
	"contact crimp":  {{"height", "setting"}},
	"seal":           {{"insulation", "plugs"}},
	"barrel":         {{"takes"}, {"length"}, {"strip"}},
	"wire":           {{"heat"}},
	"wire size":      {{"resistance"}},
	"wire core":      {{"size"}, {"resistance"}},
	"fuse":           {{"rating"}},
	"clip":           {{"holds"}},
	"boot":           {{"bundle"}},
	"housing cavity": {{"takes", "stud"}},
	"housing hole":   {{"at"}, {"drill"}},
}

// synonyms leads a person from a word of the trade to the word of the language.
var synonyms = map[string]string{
	"earth": earthHint, "ground": earthHint, "chassis": earthHint, "body": earthHint,
	"connector": "A place where two sections part is a `break`; the plug of a device is the `housing` of a `device`.",
	"plug":      "A place where two sections part is a `break`; the plug of a device is the `housing` of a `device`.",
	"lamp":      loadHint, "motor": loadHint, "pump": loadHint, "load": loadHint, "sensor": loadHint, "battery": loadHint, "relay": loadHint, "switch": loadHint,
	"pair":  "Circuits that stay together are a `cable`.",
	"bus":   "Circuits that stay together are a `cable`.",
	"net":   "Wires of one name are a `circuit`.",
	"joint": "A permanent joint is a `splice`.",
	"limit": "Limits, factors, allowances and defaults are settings: `set drop to 3 %`.",
}

const (
	earthHint = "An earth stud, and the metal of the body, is a `device` with a stud: `device shell at (60, -380, 420 mm) { pin nose stud M6 }`."
	loadHint  = "Anything with pins is a `device`."
)
