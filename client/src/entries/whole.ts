// Whole: a whole piece traced on its photograph.

import { startWhole } from "../whole/form.ts";

startWhole(document);
