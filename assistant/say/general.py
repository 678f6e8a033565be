"""Lines that belong to no recipe: what is said when nothing was heard, or all has been said."""

from assistant.cook.reply import Line

HEARD_NOTHING = Line(id="general.heard_nothing", rank="answer")
NOT_UNDERSTOOD = Line(id="general.not_understood", rank="answer")
NOT_NOW = Line(id="general.not_now", rank="answer")
HELLO = Line(id="general.hello", rank="read_back")
WELCOME = Line(id="general.welcome", rank="answer")
ANOTHER_WARNING = Line(id="general.another_warning", rank="caution")
