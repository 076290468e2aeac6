package syntax

import _ "loomsheet/lang/trial/draws" // the same values on every run
