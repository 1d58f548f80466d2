// Outline: an end traced on its photograph.

import { startOutlines } from "../outline/form.ts";

startOutlines(document);
document.addEventListener("htmx:after:swap", () => startOutlines(document));
