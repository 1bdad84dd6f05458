"""General words of owners, British and US, each with the one idea that it stands for. What is special to a complaint
stands in its tree's `hears:`, never here.
"""

from __future__ import annotations


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


IDEAS: dict[str, str] = {
    # where, and on what
    "rapid": "rapid fast quick dc ccs superfast hyper ultra motorway highway freeway services turnpike level3",
    "ac": "ac level2 type2 type1 slowcharge",
    "granny": "granny domestic 3pin portable",
    "home": "home wallbox garage driveway outlet",
    "work": "office workplace employer",
    "public": "public station stations post posts town city street supermarket mall park hotel "
              "neighbour neighbor friend "
              "sister brother parents shop mate mates mum mom mother father aunt uncle",
    "other": "other others another different elsewhere",
    "some": "some certain particular depends most miss picky fussy choosy except",
    "every": "everything anywhere everywhere any whatever wherever whichever either",
    "ignore": "ignore ignores ignored ignoring",
    "contact": "pins contact contacts terminal terminals prong prongs",
    "click": "click clunk clack relay relays tick",
    "hold": "hold holds holding grip grips",
    "byhand": "manual manually byhand press",
    "wake": "wake wakes woke waken asleep sleep sleeps",
    # what happens
    "stop": "stop quit cutout cutoff dropout drop interrupt abort terminate cease giveup halt pause "
            "dies die end ended ends disconnect lost lose loses fail cut",
    "start": "start begin commence initiate kickin launch turnon",
    "soon": "immediately instantly straightaway moment once instant",
    "later": "awhile halfway midway partway middle sometime eventually later random",
    "night": "night overnight morning midnight evening",
    "again": "again repeatedly keeps onoff replug",
    "slow": "doubled twice halved trickles painfully snail slow slowly slower slowness forever ages crawl "
            "longer speed rate long poor trickle reduced half terrible throttle underpowered low weak barely",
    "kilowatt": "kw kilowatt kilowatts amp amps ampere watt mph",
    "phase": "phase phases",
    "wallboxpower": "",  # of numbers before kW
    "rapidpower": "",
    "nothing": "unresponsive lifeless silence silent zero nada nil nothing dead reaction response react respond "
               "life totally completely none",
    "light": "flash flashes blink blinks light lights lamp led",
    "trip": "flip flips trip blow knock pop jumpout throw kick goesoff poweroff",
    "breaker": "breaker rcd gfci rcbo rccb fuse fusebox circuit earthleakage groundfault consumerunit electrics mains "
               "electricity fi",
    "house": "house apartment whole",
    "stuck": "stuck jam jammed trapped frozen lockedin",
    "comeout": "release unlock remove comeout getout unplug pull letgo free comesoff wiggle disengage detach undo",
    "plug": "inserted connect connected connection gun nozzle plug cable lead connector cord handle coupler",
    "charger": "charger chargers chargepoint chargepoints",
    "latch": "bolt catch slip slips latch lock locked locking pin seat loose fallsout",
    "notice": "recognise recognize detect notice see know think register identify unplugged",
    "message": "message warning says display dash dashboard screen triangle symbol popup instruments",
    "error": "error communication handshake session initialise initialize initialisation timeout",
    "insulation": "insulation isolation insulated isolated leakage",
    "highvoltage": "highvoltage hv electric electrical",
    "small12": "accessory 12v smallbattery auxiliary aux lowvoltagebattery starterbattery ordinary",
    "flat": "jumper flat empty drain drained jumpstart jump boost discharged breakdown",
    "timer": "timer schedule scheduled preset programmed program departure offpeak tariff delayed time cheap set",
    "remote": "app phone remote remotely smartphone",
    "level": "notfull target missing done percent percentage full complete level limit finish finished "
             "quarters topup top",
    "never": "never",
    "reach": "hit hits beyond reach fill past",
    "cold": "cold winter frost frosty freezing snow ice icy",
    "hot": "hot heat overheat summer warm heats warms",
    "wet": "rain wet storm wash carwash damp moisture water puddle",
    "burn": "burn burnt burning melted melt scorched scorch singed soot marks black discoloured discolored "
            "smell smells smelt smoke brown charred",
    "fault": "broken broke fault fails refuse",
}
"""Idea to the words that mean it. A word in no list means itself."""

FINE = _words(
    "fine ok okay works work working good normal normally perfect perfectly well great still alright "
    "charges charged happy happily takes accepts"
)
"""Words that say that something is in order, unless a negation stands in the same clause."""

SOUND = _words("fine ok okay good perfect perfectly alright")
LINKS = _words("at on with for in to when while if as enough one ones")
"""Words that say that something is in order and end their clause, unless such a link comes next."""

NOT = _words(
    "not no never wont cant cannot doesnt dont didnt isnt arent wasnt hasnt havent without nothing refuse refuses "
    "refused ignored ignores fails fail failed impossible couldnt wouldnt hardly neither nor zero"
)
TROUBLE = _words(
    "stop slow trip stuck nothing soon fault flat message insulation later error burn ignore"
)
"""Ideas that make a clause one of trouble, though nothing is negated."""

BREAKS = _words(
    "but while though although however yet whereas only and then because except"
)
"""Words with which another clause begins."""

PLACES = _words(
    "rapid ac home granny work public other some every level"
)
"""Ideas that mean the opposite where they are said to be fine."""

POINTS = _words("home granny work public other every some")
"""Places among them where one charge point may do and another not."""

UNITS = _words("kw kilowatt kilowatts amp amps v volt volts min mins minute minutes hour hours mile miles km mph days")
"""Words after which a number is no state of charge."""

EMPTY = _words(
    "a an the it its this that these those i my me we our you he she they his her "
    "them their is are was were be been am "
    "to of in on at for from with by as if so up out into onto when where which who what how there here do does did "
    "have has had will would can could should may might just very really quite also too than like or about now "
    "since last week day days month year car vehicle ev one two three four five ten thing things something sort kind "
    "get gets got give gives going go goes went come comes make makes put use used using want please yes every "
    "charge charging charged charges new old same before over under bit find found even say "
    "alike instead more less much many own us actually probably maybe there then than through "
    "across per after"
)
"""Words that part no complaint from another, and are never taken for a slip of the finger."""

NUMBERS = {
    word: float(value)
    for value, words in {
        0.5: "half", 1: "a an one", 2: "two couple", 3: "three few", 4: "four", 5: "five", 6: "six", 7: "seven",
        8: "eight", 9: "nine", 10: "ten several", 12: "twelve dozen", 15: "fifteen", 20: "twenty", 30: "thirty",
        40: "forty", 50: "fifty", 60: "sixty", 70: "seventy", 80: "eighty", 90: "ninety", 100: "hundred",
    }.items()
    for word in words.split()
}  # fmt: skip
"""Number words, as they stand before a unit."""

TURNED = _words("start stop comeout latch notice light reach again hold click timer wake")
"""What happens, or does not: ideas of which a negation right before makes another one."""
