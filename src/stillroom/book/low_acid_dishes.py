"""Dishes and foods that the book has no row of and that are not acid: our own list."""

from __future__ import annotations

DISHES = frozenset(
    {"soup", "stew", "roast", "curry", "casserole", "goulash", "minestrone"}
    | {"chowder", "ratatouille", "borscht", "succotash", "ragout", "ragu"}
    | {"bolognese", "bolognaise", "passata", "gazpacho", "consomme"}
    | {"demi glace", "gumbo", "jambalaya", "posole", "pozole", "ramen", "pho"}
    | {"stroganoff", "paprikash", "sambar", "dal", "daal", "dahl", "masala"}
    | {"vindaloo", "tamale", "tamales", "taco", "carnitas", "barbacoa"}
    | {"ravioli", "lasagna", "lasagne", "spaghetti", "pizza", "enchilada"}
    | {"sloppy", "kielbasa", "alfredo", "pot pie", "paella", "kedgeree"}
    | {"haggis", "antipasto", "caponata", "tapenade"}
    | {"meal", "dinner", "meatball", "mince", "gammon", "oxtail", "tongue"}
    | {"tripe", "rib", "rillettes", "brawn", "bratwurst", "hot dog"}
    | {"frankfurter", "lox", "squid", "octopus", "frog", "snail", "escargot"}
    | {"tofu", "hominy", "lentil", "chickpea", "garbanzo", "edamame", "haricot"}
    | {"legume", "boiled peanut", "green peanut", "water chestnut", "chestnut"}
    | {"heart of palm", "bamboo", "nettle", "veggie", "veggies", "veg", "baby"}
    | {"dog food", "cat food", "pet food", "rutabaga", "swede", "kohlrabi"}
    | {"salsify", "brussels sprout", "fiddlehead", "ramp", "cassava", "yuca"}
    | {"taro", "plantain", "jicama", "daikon", "nopal", "nopales", "mangetout"}
    | {"seaweed", "truffle", "soybean", "soya", "fava", "butterbean", "lupin"}
    | {"beansprout", "sprout", "sugar snap", "grape leave", "vine leave", "marrow"}
    | {"cardoon", "celeriac", "radish", "watercress", "purslane", "lotus root"}
    | {"burdock", "cushaw", "chayote", "bok choy", "pak choi", "endive", "escarole"}
    | {"radicchio", "arugula", "cactus", "guacamole", "pico de gallo", "mayonnaise"}
    | {"aioli", "tempeh", "seitan", "kefir", "whey", "vodka sauce", "quiche"}
    | {"stir fry", "chop suey", "chow mein", "wonton", "etouffee", "burrito"}
    | {"stuffing", "meatloaf", "scrapple", "sauerbraten", "lutefisk"}
    | {"vegetable juice", "green juice", "squirrel", "bison", "buffalo meat"}
    | {"caribou", "reindeer", "antelope", "boar", "alligator", "turtle", "ostrich"}
    | {"squab", "pigeon", "dove", "grouse", "fowl", "kidney", "caviar", "roe"}
    | {"halibut", "tilapia", "whitefish", "smelt", "scallop", "crayfish", "crawfish"}
    | {"sturgeon", "pollock", "flounder", "abalone", "conch", "urchin"}
    | {"prickly pear", "jackfruit", "durian", "lychee", "litchi", "longan", "rambutan"}
    | {"dragon fruit", "dragonfruit", "pitaya", "breadfruit", "cherimoya"}
    | {"date jam", "date butter", "date paste", "date spread", "date puree"}
    | {"pawpaw", "sapote", "ackee", "pinto", "pig", "coleslaw", "slaw", "mincemeat"}
    | {"menudo", "aspic", "ropa vieja", "poblano", "mirepoix", "sofrito", "falafel"}
    | {"baba ganoush", "maple sap", "shepherd s pie", "cottage pie", "risotto"}
    | {"pilaf", "frittata", "omelet", "omelette", "pierogi", "gnocchi"}
)
"""As `tokens` has them."""
