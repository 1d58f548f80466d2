// Sized: wood on a photograph beside something of known length.

import { startSized } from "../sized/form.ts";

startSized(document);
