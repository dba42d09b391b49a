"""Text files between semicolons: Dutch, Czech, Spanish, German."""

from tests.lists.own.own_list import OwnList, columns, engines, or_blank, text_file

MATERIEEL = OwnList(
    "materieel.csv",
    text_file(
        """
Volgnr;Maatschappij;Loknummer;Type;Artikelnr.;Bestelnr.;Gekocht op;Prijs;Adres;Decoder;Lengte (mm);Eigenaar;Rijrichting;Analoog;Opmerkingen
1;Moerdelse Streekspoor;3301;dieselloc;4102;8812;14-03-2011;€ 189,95;3301;klein;172;M02;normaal;nee;zware trekker
2;Moerdelse Streekspoor;3302;dieselloc;4103;8812;14-03-2011;€ 189,95;3302;klein;172,5;M02;omgekeerd;nee;
3;Kwelderse Tramweg;7;tramloc;1207;9044;02-11-2012;€ 79,00;7;mini;88;M02;normaal;ja;ruist een beetje
4;Kwelderse Tramweg;12;tramloc;1208;9044;02-11-2012;€ 79,00;12;mini;88;M05;normaal;ja;
5;Kwelderse Tramweg;12 bis;motorrijtuig;1311;9107;20-05-2014;€ 112,50;112;mini;141;M05;;nee;adres met opzet anders
6;Moerdelse Streekspoor;0044;sleeptender;2044;9233;;€ 240,00;2104 (lang);groot;238;M05;normaal;nee;
7;Moerdelse Streekspoor;0045;sleeptender;2045;9233;;€ 240,00;;;238;M11;;;nog geen decoder
;;;;;Totaal;;€ 1.130,40;;;;;;;
""",
        "cp1252",
    ),
    "Dutch, code page 1252; serial, article and order numbers and prices beside the address; a total",
    columns(
        "materieel", A="own", B="railway", C=["number", "loco"], D="model", E="own", F="own", G="own", H="own",
        I="address", J="decoder", K="length", L="owner", M="direction", N="dc_operation", O="notes",
    ),
    engines(
        "materieel",
        "railway number model address decoder length owner direction dc_operation notes address_kind",
        {
            2: ("Moerdelse Streekspoor", "3301", "dieselloc", 3301, "klein", 172, "M02", "normal", "off", "zware trekker", None),
            3: ("Moerdelse Streekspoor", "3302", "dieselloc", 3302, "klein", 172.5, "M02", "reversed", "off", None, None),
            4: ("Kwelderse Tramweg", "7", "tramloc", 7, "mini", 88, "M02", "normal", "on", "ruist een beetje", None),
            5: ("Kwelderse Tramweg", "12", "tramloc", 12, "mini", 88, "M05", "normal", "on", None, None),
            6: ("Kwelderse Tramweg", "12 bis", "motorrijtuig", 112, "mini", 141, "M05", None, "off", "adres met opzet anders", None),
            7: ("Moerdelse Streekspoor", "0044", "sleeptender", 2104, "groot", 238, "M05", "normal", "off", None, "long"),
            8: ("Moerdelse Streekspoor", "0045", "sleeptender", None, None, 238, "M11", None, None, "nog geen decoder", None),
        },
    ),
)  # fmt: skip

LOKOMOTIVY = OwnList(
    "lokomotivy.csv",
    text_file(
        """
Inv. č.;Dráha;Číslo;Řada;Adresa;Dekodér;Délka (mm);Majitel;Zvuk;Poznámka
1001;Žďárecká místní dráha;T 47.12;motorový vůz;47;malý;161,0;M01;ne;těžký
1002;Žďárecká místní dráha;T 47.13;motorový vůz;4713;malý;161,0;M01;ano;přestavěna
1003;Růžovská úzkorozchodka;U 7;parní;7;velký;92,5;M09;ne;
1004;Růžovská úzkorozchodka;U 18;parní;18;velký;92,5;M09;ne;šoupátko drhne
1005;Žďárecká místní dráha;021;posunovací;21;malý;;M04;;
""",
        "cp1250",
    ),
    "Czech, code page 1250; inventory numbers that look like addresses; numbers with letters and leading zeros",
    columns(
        "lokomotivy", A="own", B="railway", C=["number", "loco"], D="model", E="address", F="decoder", G="length",
        H="owner", I="own", J="notes",
    ),
    engines(
        "lokomotivy",
        "railway number model address decoder length owner notes",
        {
            2: ("Žďárecká místní dráha", "T 47.12", "motorový vůz", 47, "malý", 161, "M01", "těžký"),
            3: ("Žďárecká místní dráha", "T 47.13", "motorový vůz", 4713, "malý", 161, "M01", "přestavěna"),
            4: ("Růžovská úzkorozchodka", "U 7", "parní", 7, "velký", 92.5, "M09", None),
            5: ("Růžovská úzkorozchodka", "U 18", "parní", 18, "velký", 92.5, "M09", "šoupátko drhne"),
            6: ("Žďárecká místní dráha", "021", "posunovací", 21, "malý", None, "M04", None),
        },
    ),
)  # fmt: skip

PARQUE = OwnList(
    "parque.csv",
    text_file(
        """
Parque motor;;;;;;;;
Revisado en otoño;;;;;;;;
Compañía;Matrícula;Tipo;Dirección;Decodificador;Longitud (mm);Propietario;Sentido;Observaciones
Vía Estrecha del Zarzal;1604;tractor;1604;pequeño;118;M03;normal;
Vía Estrecha del Zarzal;1605;tractor;1605;pequeño;118;M03;invertido;gira al revés
Vía Estrecha del Zarzal;23;vapor;23;grande;101,5;M03;normal;
Minas de Peñarrubia;2;vapor;3;pequeño;74;M10;normal;sin cambiar desde la tienda
Minas de Peñarrubia;5;vapor;5;pequeño;74;M10;;¿motor flojo?
Minas de Peñarrubia;A-14;automotor;114;grande;166;M10;normal;
""",
        "cp1252",
    ),
    "Spanish, where the word for the address is the cousin of another column's name; two title rows",
    columns(
        "parque", A="railway", B=["number", "loco"], C="model", D="address", E="decoder", F="length", G="owner",
        H="direction", I="notes",
    ),
    engines(
        "parque",
        "railway number model address decoder length owner direction notes",
        {
            4: ("Vía Estrecha del Zarzal", "1604", "tractor", 1604, "pequeño", 118, "M03", "normal", None),
            5: ("Vía Estrecha del Zarzal", "1605", "tractor", 1605, "pequeño", 118, "M03", "reversed", "gira al revés"),
            6: ("Vía Estrecha del Zarzal", "23", "vapor", 23, "grande", 101.5, "M03", "normal", None),
            7: ("Minas de Peñarrubia", "2", "vapor", 3, "pequeño", 74, "M10", "normal", "sin cambiar desde la tienda"),
            8: ("Minas de Peñarrubia", "5", "vapor", 5, "pequeño", 74, "M10", None, "¿motor flojo?"),
            9: ("Minas de Peñarrubia", "A-14", "automotor", 114, "grande", 166, "M10", "normal", None),
        },
    ),
)  # fmt: skip

FAHRZEUGE = OwnList(
    "fahrzeuge.csv",
    text_file(
        """
Bahn;Betriebsnummer;Nr.;Gattung;Besitzer
Weidacher Waldbahn;301;31;Dampflok;M06
Weidacher Waldbahn;302;32;Dampflok;M06
Weidacher Waldbahn;V 12;12;Diesellok;M06
Grubenbahn Kolm;4;104;Akkulok;M07
Grubenbahn Kolm;5;105;Akkulok;M07
Grubenbahn Kolm;7;7;Akkulok;M12
""",
        "utf-8-sig",
    ),
    "the address stands in a column headed only Nr. beside the number on the engine: likely, never sure",
    columns(
        "fahrzeuge", A="railway", B=["number", "loco"], C=["address", "own"], D="model", E="owner",
    ),
    engines(
        "fahrzeuge",
        "railway number address model owner",
        {
            2: ("Weidacher Waldbahn", "301", or_blank(31), "Dampflok", "M06"),
            3: ("Weidacher Waldbahn", "302", or_blank(32), "Dampflok", "M06"),
            4: ("Weidacher Waldbahn", "V 12", or_blank(12), "Diesellok", "M06"),
            5: ("Grubenbahn Kolm", "4", or_blank(104), "Akkulok", "M07"),
            6: ("Grubenbahn Kolm", "5", or_blank(105), "Akkulok", "M07"),
            7: ("Grubenbahn Kolm", "7", or_blank(7), "Akkulok", "M12"),
        },
    ),
)  # fmt: skip

SEMICOLONS = (MATERIEEL, LOKOMOTIVY, PARQUE, FAHRZEUGE)
