// Along: the page at the mill in one file, for a phone that cannot reach the yard.

import { tallyOut } from "../along/tally";
import { start } from "../mill/page";

start(true)
  .then((page) => page && tallyOut(page))
  .catch((fault: unknown) => console.error("The page did not start.", fault));
