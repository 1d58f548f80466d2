// Round: the weighing round.

import { start } from "../round/page";

start().catch((fault: unknown) => console.error("The weighing round did not start.", fault));
