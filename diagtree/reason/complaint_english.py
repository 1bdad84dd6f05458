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
    "some": "some certain particular depends about most hit miss picky fussy choosy except apart fixed",
    "every": "everything anywhere everywhere any whatever wherever neither nor whichever either",
    # what happens
    "stop": "stop quit cutout cutoff dropout drop interrupt abort terminate cease giveup halt pause "
            "dies die end ended ends disconnect lost lose loses fail cut",
    "start": "start begin commence initiate kick kickin launch turnon",
    "soon": "immediately instantly straightaway moment once instant",
    "later": "awhile halfway midway partway middle sometime eventually later random",
    "night": "night overnight morning midnight evening",
    "again": "again repeatedly keeps onoff replug",
    "slow": "doubled twice halved trickles painfully snail slow slowly slower slowness forever ages crawl "
            "longer speed rate long poor trickle reduced half terrible throttle underpowered low weak",
    "kilowatt": "kw kilowatt kilowatts amp amps ampere watt mph",
    "phase": "phase phases",
    "nothing": "unresponsive lifeless silence silent zero nada nil asleep nothing dead reaction response react respond "
               "life totally completely none",
    "light": "flash flashes blink blinks light lights lamp led",
    "trip": "flip flips trip blow knock pop jumpout throw kick goesoff poweroff",
    "breaker": "breaker rcd gfci rcbo rccb fuse fusebox circuit earthleakage groundfault consumerunit electrics mains "
               "electricity fi",
    "house": "house flat apartment whole",
    "stuck": "stuck jam jammed trapped frozen lockedin",
    "comeout": "release unlock remove comeout getout unplug pull letgo free comesoff wiggle off",
    "plug": "inserted connect connected connection gun nozzle plug cable lead connector cord handle coupler",
    "charger": "charger chargers chargepoint chargepoints",
    "latch": "bolt catch slip slips latch lock locked locking click pin seat loose fallsout",
    "notice": "recognise recognize detect notice see know think register identify unplugged",
    "message": "message warning says display dash dashboard screen triangle symbol popup instruments",
    "error": "error communication handshake session initialise initialize initialisation timeout",
    "insulation": "insulation isolation insulated isolated leakage",
    "highvoltage": "highvoltage hv electric electrical",
    "small12": "accessory 12v smallbattery auxiliary aux lowvoltagebattery starterbattery ordinary",
    "flat": "jumper flat empty drain drained jumpstart jump boost discharged breakdown",
    "timer": "timer schedule scheduled preset programmed program departure offpeak tariff delayed time cheap set",
    "remote": "app phone remote remotely smartphone",
    "level": "notfull target missing done percent percentage full complete level limit finish finished quarters topup top",
    "never": "never",
    "reach": "hit hits beyond reach fill past",
    "cold": "cold winter frost frosty freezing snow ice icy",
    "hot": "hot heat summer warm heats warms",
    "wet": "rain wet storm wash carwash damp moisture water puddle",
    "burn": "burn burnt burning melted melt scorched smell smells smelt smoke brown charred",
    "fault": "broken broke fault fails refuse",
}
"""Idea to the words that mean it. A word in no list means itself."""

JOINED: tuple[tuple[str, str], ...] = (
    (r"\blevel (2|two)\b", "level2"),
    (r"\blevel (3|three)\b", "level3"),
    (r"\btype (1|one)\b", "type1"),
    (r"\btype (2|two)\b", "type2"), (r"\b(3|three) pin\b", "3pin"),
    (r"\bwall ?(box|charger|unit|connector)\b", "wallbox"),
    (r"\bhome (charger|charge point|chargepoint|station)\b", "wallbox home"),
    (r"\b12 ?(v|volts?)\b", "12v"), (r"\btwelve volts?\b", "12v"),
    (r"\b(small|little|ordinary|normal|starter|auxiliary|aux|low voltage|12v) (car )?batter(y|ies)\b", "smallbattery"),
    (r"\blow voltage battery\b", "smallbattery"),
    (r"\bhigh voltage\b", "highvoltage"),
    (r"\balternating current\b", "ac"),
    (r"\bdirect current\b", "dc"),
    (r"\bout of order\b", "fault"),
    (r"\bthree quarters of an hour\b", "45 minutes"), (r"\bhalf an hour\b", "30 minutes"),
    (r"\bhalf (the|my) (charg|pow|spe)", r"half \2"),
    (r"\b(home|house),? (and |or |but |not )*(at )?work\b", "home workplace"),
    (r"((?:^|[,.;]) ?)work (is|isnt|not|ok|fine)\b", r"\1workplace \2"),
    (r"\b(isnt|not|no longer|arent|never|wasnt) ((as|so|very|really|that|too|exactly) )?(fast|quick|quickly)\b(?! charg)", "slow"),
    (r"\b(isnt|not|arent) (as |so )?(fast|quick) any ?more", "slow"),
    (r"\b(takes?|took|taking|needs?) ((?!no\b|up\b|it\b|a charge)\w+ ){0,3}?(hours?|days?|nights?|minutes|twice|time|ages|forever)\b", r"\g<0> slow"),
    (r"\bused to (do|take|give|need|manage|pull|draw)\b", "slow"),
    (r"\b([1-5]?\d(\.\d+)?) (\w+ )?instead of (?=\d)", r"\g<0> slow kilowatts "),
    (r"\b(should|supposed to|meant to) (be |do |give |get |pull |take |draw )+(?=\d)", "slow "),
    (r"\bmiles (an|per) hour\b", "mph"),
    (r"\blights (\w+ ){0,3}?(go|goes|went|going|gone) (out|off)\b", "poweroff house"),
    (r"\b(goes|went|go) (all )?dark\b", "poweroff dark"),
    (r"\b(conks?|conked|conking|packs?|packed|packing) (out|in|up)\b", "cutout"),
    (r"\bcalls? it a day\b", "cutout"), (r"\bbreaks? off\b", "cutout"), (r"\b(shuts?|shutting) (down|off)\b", "cutout"),
    (r"\btrips? (out|off)\b", "cutout trip"),
    (r"\bunlock (the|my) (car|doors?)\b", "doors"),
    (r"\b(pin|bolt)\b([^,.;]{0,40}?)\b(not|doesnt|wont) (come|pop|move|go|slide) (out|in|down)\b", r"latch \2 not latch"),
    (r"\bno (error )?(messages?|errors?|warnings?|faults?|codes?)\b", "nomessage"),
    (r"\b(the )?next (one|charger|station|post|point|day)?\b", "elsewhere"),
    (r"\bthe rest\b", "others"), (r"\bapart from\b", "except"), (r"\bother than\b", "except"),
    (r"\bhigh (power|speed)\b", "rapid"),
    (r"\b(\d+) ?%", r"\1 percent"),
    (r"\bper ?cent\b", "percent"),
    (r"\b(cut|cuts|cutting) (out|off)\b", "cutout"),
    (r"\b(drop|drops|dropping|dropped) (out|off)\b", "dropout"),
    (r"\b(give|gives|giving|gave) up\b", "giveup"),
    (
        r"\b(come|comes|coming|came|get|gets|getting|take|takes|pull) (it |the \w+ |them )?(out|off|free|loose)\b",
        "comeout",
    ),
    (r"\b(let|lets) (it )?go\b", "letgo"),
    (r"\bfalls? out\b", "fallsout"),
    (r"\blocked in\b", "lockedin"),
    (r"\b(straight|right) ?away\b", "straightaway"),
    (r"\bat once\b", "straightaway"),
    (r"\bon and off\b", "onoff"),
    (r"\bon off\b", "onoff"), (r"\boff and on\b", "onoff"), (r"\bearth leakage\b", "earthleakage"),
    (r"\bground fault\b", "groundfault isolation"),
    (r"\bfuse ?(box|board)\b", "fusebox"),
    (r"\bconsumer unit\b", "consumerunit"),
    (r"\boff ?peak\b", "offpeak"), (r"\bjump ?start(ed|ing|s)?\b", "jumpstart"),
    (r"\bslow (charging|chargers?|charge|ac|ones?|kind)\b", "slowcharge"),
    (r"\bnever (fails?|a problem|any problem|had a problem)\b", "fine"),
    (r"\b(stopped|quit|ceased) (working|accepting|taking)\b", "fails"),
    (r"\bat (my )?work\b", "at workplace"),
    (r"\b(night|cheap|low|off ?peak) (rate|tariff|electricity)\b", "tariff"),
    (r"\b(50|100|120|150|175|300|350) kw (ones?|chargers?|stations?|posts?|rapids?|thing|units?)\b", "rapid"),
    (r"\b(7|11|22) kw (ones?|chargers?|points?|box|units?)\b", "wallbox"),
    (r"\b(never|not|no) (see |get |gets |goes |go |getting )?(more|above|over|beyond) (than )?(?=\d+ kw)", "slow "),
    (r"\b(errors?|times?|faults?) out\b", "cutout"),
    (r"\bcharg(e|ing) times?\b", "slow"),
    (r"\b(a|some|quite a|good|long) (while|time|bit)\b", "awhile"),
    (r"\bcharge points?\b", "chargepoint"),
    (r"\bjumper cables?\b", "jumpstart"),
    (r"\bjump (pack|leads?|start)\b", "jumpstart"),
    (r"\bas (fast|quick|good|quickly) as (ever|before|always|new|it was)\b", "fine"),
    (r"\bas (ever|before|always|usual|normal)\b", "fine"),
    (r"\bkick(s|ed)? (in|off)\b", "kickin"),
    (r"\bhook(s|ed)? (it |the car )?up\b", "plug"),
    (r"\bcuts? (straight|right) (out|off)\b", "cutout straightaway"),
    (r"\b(get|got|be) (it |the \w+ )?unplugged\b", "unplug"),
    (r"\b(give|gives) (it |me |the )?(\w+ )?back\b", "letgo"),
    (r"\bcar wash\b", "carwash"),
    (r"\bnot (yet )?(full|finished|complete|done)\b", "notfull"),
    (r"\b(stops?|ends?|comes) short\b", "notfull stop"),
    (r"\bmax(es|ed)? out\b", "notfull"),
    (r"\bin the (street|city|town)\b", "public"),
    (r"\b(goes|go|going|went) off\b", "goesoff"), (r"\bplugged in\b", "plug"),
    (r"\bplug(s|ging)? (it |the car )?in\b", "plug"),
    (r"\b(any ?more|any longer)\b", ""), (r"\bat all\b", "totally"),
    (r"\bno (problem|trouble|bother|issue)s?\b", "fine"),
    (r"\b(no|any) (probs|prob)\b", "fine"),
    (r"\ball (good|right)\b", "fine"),
    (r"\bas always\b", "fine"),
)  # fmt: skip
"""Expressions of several words, and the one word that stands for each."""

FINE = _words(
    "fine ok okay works work working good normal normally perfect perfectly well great still alright "
    "charges charged happy"
)
"""Words that say that something is in order, unless a negation stands in the same clause."""

SOUND = _words("fine ok okay good perfect perfectly alright")
LINKS = _words("at on with for in to when while if as enough one ones")
"""Words that say that something is in order and end their clause, unless such a link comes next."""

NOT = _words(
    "not no never wont cant cannot doesnt dont didnt isnt arent wasnt hasnt havent without nothing refuse refuses "
    "refused ignored ignores fails fail failed impossible couldnt wouldnt hardly neither nor"
)
TROUBLE = _words(
    "stop slow trip stuck nothing soon fault dead flat message insulation later"
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
    "get gets got give gives going go goes went come comes make makes put use used using want please yes every time "
    "charge charging charged charges new old same before over under bit find found even says say "
    "instead most more less much many any own us another actually probably maybe there then than through across per"
)
"""Words that part no complaint from another, and are never taken for a slip of the finger."""

NUMBERS = {
    word: float(value)
    for value, words in {
        0.5: "half", 1: "a an one", 2: "two couple", 3: "three few", 4: "four", 5: "five", 6: "six", 7: "seven", 8: "eight",
        9: "nine", 10: "ten several", 12: "twelve dozen", 15: "fifteen", 20: "twenty", 30: "thirty", 40: "forty",
        50: "fifty", 60: "sixty", 70: "seventy", 80: "eighty", 90: "ninety", 100: "hundred",
    }.items()
    for word in words.split()
}  # fmt: skip
"""Number words, as they stand before a unit."""

TURNED = _words("start stop comeout latch notice light reach again")
"""What happens, or does not: ideas of which a negation right before makes another one."""
