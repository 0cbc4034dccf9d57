"""A page taken apart, as a browser would: elements with their attributes, and the text that is shown."""

from dataclasses import dataclass, field
from html.parser import HTMLParser

VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}


@dataclass
class Element:
    name: str
    attributes: dict
    text: str = ""
    inside: tuple = ()


@dataclass
class Page(HTMLParser):
    source: str
    elements: list = field(default_factory=list)
    unclosed: list = field(default_factory=list)
    stray: list = field(default_factory=list)

    def __post_init__(self):
        super().__init__(convert_charrefs=True)
        self.feed(self.source)
        self.close()

    def handle_starttag(self, tag, attributes):
        one = Element(tag, dict(attributes), inside=tuple(self.unclosed))
        self.elements.append(one)
        if tag not in VOID:
            self.unclosed.append(one)

    def handle_startendtag(self, tag, attributes):
        self.elements.append(Element(tag, dict(attributes), inside=tuple(self.unclosed)))

    def handle_endtag(self, tag):
        if self.unclosed and self.unclosed[-1].name == tag:
            self.unclosed.pop()
        else:
            self.stray.append(tag)

    def handle_data(self, data):
        for one in self.unclosed:
            one.text += data

    def all(self, name, **attributes):
        """Elements of that name with these attributes; an underscore stands for a hyphen, a last one for nothing."""
        wanted = {key.rstrip("_").replace("_", "-"): text for key, text in attributes.items()}
        return [
            one
            for one in self.elements
            if one.name == name and all(one.attributes.get(key) == text for key, text in wanted.items())
        ]

    def one(self, name, **attributes):
        (found,) = self.all(name, **attributes)
        return found

    @property
    def title(self):
        return next(one.text for one in self.elements if one.name == "title")

    def meta(self, name):
        (found,) = [
            one for one in self.all("meta") if name in (one.attributes.get("name"), one.attributes.get("property"))
        ]
        return found.attributes["content"]
