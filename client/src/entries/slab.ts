// Slab: a whole piece traced on its photograph.

import { startSlabs } from "../slab/form.ts";

startSlabs(document);
