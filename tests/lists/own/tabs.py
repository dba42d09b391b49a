"""Text files between commas, tabs and bars: Polish across, Danish in UTF-16, none with headings, and no list."""

from tests.lists.own.own_list import OwnList, columns, engines, or_blank, text_file

PAROWOZY = OwnList(
    "parowozy.csv",
    text_file(
        """
Lokomotywa,BD 101,BD 102,GL 7,GL 55
Adres,101,102,7,55
Zakup,2014-05-02,2015-11-30,2009-01-17,2009-01-17
Typ,parowóz,parowóz,manewrowa,wagon motorowy
Dekoder,duży,duży,mały,mały
Cena (zł),"899,00","925,50","310,00","280,00"
CV2,5,5,8,9
CV3,10,12,4,4
CV4,8,8,4,4
CV29,2,3,2,6
CV52,,,14,
Właściciel,M01,M01,M05,M05
Uwagi,,nowe koła,,"ładny, ale głośny"
""",
        "utf-8",
        newline="\n",
    ),
    "Polish, UTF-8 without a mark, engines across, with rows of dates and prices between",
    {
        "parowozy!1": ["loco", "engine"],
        "parowozy!2": "address",
        "parowozy!3": "own",
        "parowozy!4": "model",
        "parowozy!5": "decoder",
        "parowozy!6": "own",
        "parowozy!7": "vstart",
        "parowozy!8": "acceleration",
        "parowozy!9": "deceleration",
        "parowozy!10": "cv:29",
        "parowozy!11": "cv:52",
        "parowozy!12": "owner",
        "parowozy!13": "notes",
    },
    engines(
        "parowozy",
        "loco railway number address model decoder vstart acceleration deceleration direction dc_operation owner notes",
        {
            "B": ("BD 101", or_blank("BD"), or_blank("101"), 101, "parowóz", "duży", 5, 10, 8, "normal", "off", "M01", None),
            "C": ("BD 102", or_blank("BD"), or_blank("102"), 102, "parowóz", "duży", 5, 12, 8, "reversed", "off", "M01", "nowe koła"),
            "D": ("GL 7", or_blank("GL"), or_blank("7"), 7, "manewrowa", "mały", 8, 4, 4, "normal", "off", "M05", None),
            "E": ("GL 55", or_blank("GL"), or_blank("55"), 55, "wagon motorowy", "mały", 9, 4, 4, "normal", "on", "M05", "ładny, ale głośny"),
        },
        address_kind="short",
        speed_steps="28/128",
        speed_curve="3-point",
        bidi="off",
    ),
    extras=[("GL 7", 52, 14)],
)  # fmt: skip

REGISTRE = OwnList(
    "registre.txt",
    text_file(
        """
Litra|Nummer|Bane|Ejer|CV1|CV17|CV18|CV29|CV3|CV4|Bemærkning
PR|4012|Vestø Privatbane|M06|3|207|172|34|6|5|
PR|12|Vestø Privatbane|M06|12|192|128|6|6|5|må også køre på jævnstrøm
PX|1000|Vestø Privatbane|M06|3|195|232|35|9|7|vender forkert
TB|8|Sandby Tørvebane|M13|8|||||2|
TB|2000|Sandby Tørvebane|M13|3|199|208||||CV29 ikke læst
TB|31|Sandby Tørvebane|M13|31|190|44|34|1|1|læst forkert?
""".replace("|", "\t"),
        "utf-16",
    ),
    "Danish, UTF-16 between tabs; no address column: CV1, CV17, CV18 and CV29 give it, or contradict each other",
    columns(
        "registre", A=["model", "own"], B=["number", "loco"], C="railway", D="owner", E="cv:1", F="cv:17", G="cv:18", H="cv:29",
        I="acceleration", J="deceleration", K="notes",
    ),
    engines(
        "registre",
        "railway number model owner address address_kind direction dc_operation acceleration deceleration notes",
        {
            2: ("Vestø Privatbane", "4012", "PR", "M06", 4012, "long", "normal", "off", 6, 5, None),
            3: ("Vestø Privatbane", "12", "PR", "M06", 12, "short", "normal", "on", 6, 5, "må også køre på jævnstrøm"),
            4: ("Vestø Privatbane", "1000", "PX", "M06", 1000, "long", "reversed", "off", 9, 7, "vender forkert"),
            5: ("Sandby Tørvebane", "8", "TB", "M13", or_blank(8), or_blank("short"), None, None, None, 2, None),
            6: ("Sandby Tørvebane", "2000", "TB", "M13", [None, 2000], or_blank("long"), None, None, None, None, "CV29 ikke læst"),
            7: ("Sandby Tørvebane", "31", "TB", "M13", None, or_blank("long"), "normal", "off", 1, 1, "læst forkert?"),
        },
    ),
)  # fmt: skip

BARS = OwnList(
    "bars.txt",
    text_file(
        """
Gremlin Valley|5101|5101|M03|sound
Gremlin Valley|5102|5102|M03|
Gremlin Valley|18|18|M03|
Toadstool & Western|2-A|102|M14|sound
Toadstool & Western|9|9|M14|flickers on the bridge
Toadstool & Western|441|441|M14|
""",
        "utf-8-sig",
    ),
    "no headings at all: somebody has to say what is what, or the reader says how unsure it is",
    columns(
        "bars", A=["railway", "own"], B=["number", "loco", "own"], C=["address", "own"], D=["owner", "own"],
        E=["notes", "own", "model", "decoder"],
    ),
    engines(
        "bars",
        "railway number address owner",
        {
            1: (or_blank("Gremlin Valley"), or_blank("5101"), or_blank(5101), or_blank("M03")),
            2: (or_blank("Gremlin Valley"), or_blank("5102"), or_blank(5102), or_blank("M03")),
            3: (or_blank("Gremlin Valley"), or_blank("18"), or_blank(18), or_blank("M03")),
            4: (or_blank("Toadstool & Western"), or_blank("2-A"), or_blank(102), or_blank("M14")),
            5: (or_blank("Toadstool & Western"), or_blank("9"), or_blank(9), or_blank("M14")),
            6: (or_blank("Toadstool & Western"), or_blank("441"), or_blank(441), or_blank("M14")),
        },
        decoder=or_blank("sound"),
    ),
    optional=True,
)  # fmt: skip

MEMBERS = OwnList(
    "members.csv",
    text_file(
        """
Member,Address,Phone,Joined,Engines
M01,12 Mill Lane,555-0101,1998,4
M02,3,555-0102,2004,11
M03,47 Station Yard,555-0103,2011,2
M04,128,555-0104,2019,1
""",
        "utf-8",
        newline="\n",
    ),
    "no list of engines: the addresses are where members live, even those that are a bare number",
    columns("members", A=["own", "owner"], B="own", C="own", D="own", E="own"),
    {},
)

STABLE = OwnList(
    "stable.csv",
    text_file(
        '''
Rd,Rd #,Cat. no.,Order no.,Bought,Paid,DCC addr,Long?,Lgth,Owner,Where kept,Remarks
Pinewhistle Rwy,1201,60-2201,10044,3/4/2012,$119.00,1201,x,"6 1/2""",M03,drawer 3,"needs:
- couplers
- number boards"
Pinewhistle Rwy,1202,60-2202,10044,3/4/2012,$119.00,1202,x,"6 1/2""",M03,drawer 3,
Pinewhistle Rwy,0008,60-1108,10122,11/30/2013,$89.50,8,,"4 3/4""",M03,drawer 1,"says ""8"" on one side, ""0008"" on the other"
Lost Lake Mining,3,71-0003,10123,,,3,,3.5,M15,shelf,still at the address it came with; who cares
Lost Lake Mining,44,71-0044,10123,,,44,x,3.5,M15,shelf,long on purpose
Lost Lake Mining,NE 2,,,,,see card,,,M15,,
''',
        "utf-8",
    ),
    "between commas: text over several lines, quotes in quotes, catalogue and order numbers, a tick for long",
    columns(
        "stable", A="railway", B=["number", "loco"], C="own", D="own", E="own", F="own", G="address",
        H=["address_kind", "own"], I="length", J="owner", K="own", L="notes",
    ),
    engines(
        "stable",
        "railway number address address_kind length owner notes",
        {
            2: ("Pinewhistle Rwy", "1201", 1201, ["long", None], 6.5, "M03", "needs: - couplers - number boards"),
            3: ("Pinewhistle Rwy", "1202", 1202, ["long", None], 6.5, "M03", None),
            4: ("Pinewhistle Rwy", "0008", 8, [None, "short"], 4.75, "M03", 'says "8" on one side, "0008" on the other'),
            5: ("Lost Lake Mining", "3", 3, [None, "short"], or_blank(3.5), "M15", "still at the address it came with; who cares"),
            6: ("Lost Lake Mining", "44", 44, ["long", None], or_blank(3.5), "M15", "long on purpose"),
            7: ("Lost Lake Mining", "NE 2", None, None, None, "M15", None),
        },
    ),
    doubts=["stable!G7"],
)  # fmt: skip

TABS = (PAROWOZY, REGISTRE, BARS, MEMBERS, STABLE)
