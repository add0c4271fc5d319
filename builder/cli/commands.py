"""The names of the commands with what they do in a line; each is loaded when it is asked for.

A command's own help begins with the same sentence; a test holds them together.
"""

COMMANDS = {
    "start": "Make FOLDER with files to change: a client, blocks, a brand and a page of the coach's own.",
    "check": "Find every problem in FILES, then review the design against the trade's norms.",
    "build": "Build the booklet from FILES: a client and a block, and a brand and movements if there are any.",
    "preview": "Make one session of the booklet, or another of its pages, to look at while you write the files.",
    "explain": "Print every set of the plan made from FILES with the reasons for its load.",
    "read": "Print the log of FILLED: a booklet that was filled in, or its copies from several devices.",
    "report": "Make a short PDF for the coach from FILLED: booklets of one lifter that were filled in, "
    "or a folder of them.",
    "retest": "Add the results of a test day to the profile among FILES, and build the booklet that follows from them.",
    "intake": "Make an intake form in the look of BRAND: the lifter, tested sets, the gym, "
    "limits, screening and consent.",
    "enrol": "Make a profile of each of FILLED, intake forms that were filled in, for you to read and edit.",
    "roster": "Make a booklet for every row of ROSTER, a CSV or YAML file; what a row leaves out comes from FILES.",
    "look": "Make FOLDER with the style sheets, templates and words of a shipped look, to start your own from.",
    "unpack": "Take the source files that BOOKLET carries out into FOLDER, which must be new or empty.",
    "carries": "Tell what FILE, a PDF, carries besides its pages: each file, and each fact about a person.",
    "strip": "Take what is personal out of FILLED, a booklet that was filled in, so that its "
    "training can be shown to others.",
    "impose": "Make sheets for saddle stitching from BOOKLET, a PDF that was built or filled in.",
    "schema": "Print the JSON Schema (draft 2020-12) of one KIND of file, so that an editor can complete and check it.",
    "help": "Print the part of the reference on TOPIC: a topic, a command, a key, a kind of progression, or a code.",
    "manual": "Make a PDF of all that `loadleaf help` prints: every command, key, kind, code and form field.",
    "doctor": "Check fonts, templates, native libraries and versions, and print what to "
    "install when something is missing.",
}
"""In the order of the work."""
