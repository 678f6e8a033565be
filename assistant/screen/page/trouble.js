// A page that says what went wrong; the bells ring here too.
import { mindBells } from "./bells.js";
import { settle } from "./shell.js";

settle();
mindBells();
