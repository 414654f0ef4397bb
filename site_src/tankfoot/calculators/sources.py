"""What several sums rest on, cited once."""

GUM = "JCGM 100:2008 (GUM), 5.1.2: propagation of uncertainty"
CO2_GAS = "R. F. Weiss, Marine Chemistry 2 (1974) 203-215, equation 6: second virial coefficient of CO2"
CO2_IN_WATER = "R. F. Weiss, Marine Chemistry 2 (1974) 203-215: solubility of CO2 in water at a pressure"
WATER_VAPOUR = "R. F. Weiss and B. A. Price, Marine Chemistry 8 (1980) 347-359: vapour pressure of water"
BEER_CHARTS = "Beer factor 0.955 ± 0.02: the trade's printed charts between 0 and 12 °C (from memory)"
FLOW_TIMES_TIME = "Arithmetic: flow times time."
