// Count: a stock count.

import { start } from "../count/page";

start().catch((fault: unknown) => console.error("The stock count did not start.", fault));
