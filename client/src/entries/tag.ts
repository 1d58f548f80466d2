// Tag: a QR tag read from a photograph.

import { startReaders } from "../qr.ts";

startReaders(document);
document.addEventListener("htmx:after:swap", () => startReaders(document));
