"""Python's caldav (Debian: python3-caldav) as a person's task app: discovers, syncs, ticks and unticks a stage."""
import datetime as dt
import json
import sys

import caldav

address, token, wanted = sys.argv[1:4]
client = caldav.DAVClient(f"{address}/.well-known/caldav", username="anybody", password=token)
principal = client.principal()
calendars = {calendar.name: calendar for calendar in principal.calendars()}
stages = calendars["Stages"]


def signs(text):
    lines = text.replace("\r", "").split("\n")
    return [line for line in lines if line.startswith(("STATUS", "COMPLETED", "PERCENT-COMPLETE"))]


def todo(found):
    return caldav.objects.Todo(client=client, url=found.url, data=found.data, parent=stages)


def changes(since):
    found = stages.objects_by_sync_token(sync_token=since, load_objects=True)
    return list(found), found.sync_token


first = stages.objects_by_sync_token(load_objects=True)
mine = todo(next(one for one in first if f"SUMMARY:{wanted}" in one.data))
before = signs(mine.data)
pending = len(stages.todos())
mine.complete()
ticked, known = changes(first.sync_token)
quiet, known = changes(known)
mine = todo(ticked[0])
for name in ("completed", "percent-complete", "status"):
    mine.vobject_instance.vtodo.contents.pop(name, None)
mine.save()
unticked, known = changes(known)
json.dump({
    "calendars": {name: calendar.get_supported_components() for name, calendar in calendars.items()},
    "count": len(list(first)),
    "before": before,
    "pending": pending,
    "inMarch": len(calendars["Mudflat Weekly"].date_search(dt.datetime(2026, 3, 1), dt.datetime(2026, 4, 1))),
    "ticked": [signs(one.data) for one in ticked],
    "quiet": len(quiet),
    "unticked": [signs(one.data) for one in unticked],
}, sys.stdout)
