// Stands for a page that can't be had without the kitchen's machine, until that answers again.
import { mindBells } from "./bells.js";
import { settle } from "./shell.js";

settle();
mindBells(() => location.pathname !== "/away" && location.reload());
