// Log3d: the log in three dimensions on whatever page carries one.

import { startLogs } from "../log3d/figure.ts";

startLogs(document);
document.addEventListener("htmx:after:swap", () => startLogs(document));
