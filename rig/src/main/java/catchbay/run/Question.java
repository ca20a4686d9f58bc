package catchbay.run;

/** What a run can ask its operator. */
public enum Question {
    /** Whether the checklist is done; answered by a name. */
    CHECKLIST(
            "checklist",
            "Walk through the checklist; recirculation and every other outlet are shut. Type your"
                    + " name when all is so."),
    /** Whether speed pulses may be sent; answered by a name. */
    SPEED_CHECKLIST(
            "speed-checklist",
            "Speed is about to be sent: conveyor, auger and spinner may turn. Type your name when"
                    + " guards are on and nobody is near them, the truck's own speed sensor is"
                    + " unplugged, and the bay's lead is, through its isolated output, in the"
                    + " controller's speed input and nowhere else."),
    /** In a sweep that runs without a hand: to show that somebody is there. */
    PRESENCE(
            "presence",
            "Is somebody within reach of the truck's own stop? Press Enter, or the bay goes to its"
                    + " safe state."),
    /** To start the flow. */
    START_FLOW(
            "start-flow",
            "Start the truck's liquid flow now, then press Enter.",
            "Open the bay's own supply now, then press Enter."),
    /** To stop the flow. */
    STOP_FLOW(
            "stop-flow",
            "Stop the truck's liquid flow now, then press Enter.",
            "Shut the bay's own supply now, then press Enter."),
    /** The total on the truck's display before the window, at rest. */
    TOTAL_BEFORE(
            "total-before", "Nothing flows. Type the total that the truck's display shows now."),
    /** The total on the truck's display after the window, at rest. */
    TOTAL_AFTER("total-after", "Nothing flows. Type the total that the truck's display shows now."),
    /** The same once more, since the first entry looks unlikely. */
    TOTAL_AGAIN(
            "total-again",
            "That is far from what was asked. Read the display again and type its total once"
                    + " more."),
    /** The salt that the controller reports for the window. */
    SALT_REPORTED(
            "salt-reported", "Type the tons of salt that the controller reports for this catch."),
    /**
     * Between catches, never within one: to load or unload the scale, as {@link ScaleTask} says.
     */
    LOAD_SCALE("load-scale", "Load the scale as said, then press Enter."),
    /** Between catches of a sweep, never within one: to do what {@link SweepTask} says. */
    SWEEP_STEP("sweep-step", "Do what is said, then press Enter."),
    /** In a hunt for an end of a truck's range: to set what {@link HuntTask} says. */
    HUNT_STEP("hunt-step", "Set the flow as said, then press Enter."),
    /** In a checkup, never within a run: to say that what was watched has moved. */
    SEEN_MOVING("seen-moving", "Press Enter once you have seen it."),
    /** Between the runs of a series, never within one: whether a run that stands out stays in. */
    KEEP_RUN(
            "keep-run",
            "Press Enter to keep the run that stands out, or type 'stop' to end the series.");

    private final String key;
    private final String words;
    private final String supplyWords;

    Question(String key, String words) {
        this(key, words, words);
    }

    Question(String key, String words, String supplyWords) {
        this.key = key;
        this.words = words;
        this.supplyWords = supplyWords;
    }

    /** How traces call this question. */
    public String key() {
        return key;
    }

    /** The question for a person at a truck. */
    public String words() {
        return words;
    }

    /** The question for a person where the liquid comes from here. */
    public String words(RunSetup.Truck from) {
        return from.isBaySupply() ? supplyWords : words;
    }

    /** Whether it is answered by a total of the truck's display. */
    public boolean asksTotal() {
        return this == TOTAL_BEFORE || this == TOTAL_AFTER || this == TOTAL_AGAIN;
    }

    /** The question called so; fails with a sentence that says it is unknown. */
    public static Question ofKey(String key) {
        for (Question question : values()) {
            if (question.key.equals(key)) {
                return question;
            }
        }
        throw new IllegalArgumentException("unknown question '" + key + "'");
    }
}
