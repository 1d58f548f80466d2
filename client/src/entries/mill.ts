// Mill: the page at the mill.

import { start } from "../mill/page";

start().catch((fault: unknown) => console.error("The page at the mill did not start.", fault));
