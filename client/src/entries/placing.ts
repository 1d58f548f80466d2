// Placing: metal and defects put on a drawing of the log.

import { startPlacing } from "../placing/form.ts";

startPlacing(document);
document.addEventListener("htmx:after:swap", () => startPlacing(document));
