"""Swarfbook's calculations: the same code on the server, in the browser and on the command line.

catalogue()                 every calculation by name, with its declaration
answer(name, typed)         an Answer, or Refused with every problem at once
answer_json(name, typed)    the same as JSON text, refusals included, never raising for bad input
callout.callout(text)       what a line written as on a drawing could mean, best first
"""

from calc.catalogue import catalogue
from calc.run import answer, answer_json

__all__ = ["answer", "answer_json", "catalogue"]
