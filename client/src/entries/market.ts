// Market: a market day.

import { start } from "../market/page";

start().catch((fault: unknown) => console.error("The market day did not start.", fault));
