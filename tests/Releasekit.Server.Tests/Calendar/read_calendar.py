"""Reads a calendar with icalendar, independent of our writer, and prints it as JSON.

read_calendar.py CALENDAR [INSTANTS]

INSTANTS is a JSON list of seconds since 1970; for each VTIMEZONE the UTC offset at each of them is printed, in seconds.
Times with a TZID are turned into UTC by the VTIMEZONE of the file, never by a zone database.
"""
import json
import sys
from datetime import date, datetime, timedelta, timezone

from icalendar import Calendar
from icalendar.prop import vDDDLists

UTC = timezone.utc


def offset_at(zone, instant):
    return instant.astimezone(zone).utcoffset()


def to_utc(wall, zone):
    """The earlier of two where the wall time exists twice (RFC 5545, 3.3.5)."""
    for offset in sorted({info[0] for info in zone._transition_info}, reverse=True):
        instant = (wall - offset).replace(tzinfo=UTC)
        if offset_at(zone, instant) == offset:
            return instant
    raise ValueError(f"{wall} does not exist in {zone.zone}")


def value_of(value, zones):
    if isinstance(value, vDDDLists):
        return ",".join(item.to_ical().decode() for item in value.dts)
    moment = getattr(value, "dt", None)
    if isinstance(moment, datetime):
        tzid = value.params.get("TZID")
        if tzid:
            moment = to_utc(moment.replace(tzinfo=None), zones[tzid])
        return moment.isoformat().replace("+00:00", "Z")
    if isinstance(moment, date):
        return moment.isoformat()
    if isinstance(moment, timedelta):
        return str(int(moment.total_seconds()))
    if isinstance(value, (str, int)):
        return str(value)
    written = value.to_ical()
    return written if isinstance(written, str) else written.decode()


def component_of(component, zones):
    properties = [
        {
            "name": name,
            "value": value_of(value, zones),
            "params": {key: str(text) for key, text in getattr(value, "params", {}).items()},
        }
        for name, value in component.property_items(recursive=False)
        if name not in ("BEGIN", "END")
    ]
    return {
        "name": component.name,
        "properties": properties,
        "components": [component_of(child, zones) for child in component.subcomponents],
    }


def main():
    with open(sys.argv[1], "rb") as file:
        calendar = Calendar.from_ical(file.read())
    instants = []
    if len(sys.argv) > 2:
        with open(sys.argv[2], encoding="utf-8") as file:
            instants = [datetime.fromtimestamp(second, UTC) for second in json.load(file)]
    zones = {str(part["TZID"]): part.to_tz() for part in calendar.walk("VTIMEZONE")}
    offsets = {
        tzid: [int(offset_at(zone, instant).total_seconds()) for instant in instants] for tzid, zone in zones.items()
    }
    json.dump({"calendar": component_of(calendar, zones), "offsets": offsets}, sys.stdout)


main()
