package catchbay.run;

import java.util.List;

/** What a person is asked for in a checkup, or before other work at the bay; never in a run. */
public sealed interface CheckTask {

    /** What is asked, as sentences. */
    String words();

    /**
     * To make sure of what must be so before anything moves, in a checkup or before runs that are
     * confirmed together; answered as {@link Question#CHECKLIST}.
     *
     * @param lines what must be so
     */
    record Cautions(List<String> lines) implements CheckTask {
        public Cautions {
            lines = List.copyOf(lines);
        }

        @Override
        public String words() {
            return "Walk through the list. Type your name when all is so; only then does anything"
                    + " move.";
        }
    }

    /**
     * To bring a contact to a state by hand; answered by the contact itself.
     *
     * @param contact one that a hand can reach, none of the diverter's
     * @param active whether it is to be active
     */
    record Handle(BayContact contact, boolean active) implements CheckTask {
        @Override
        public String words() {
            return switch (contact) {
                case EMERGENCY_STOP ->
                        active
                                ? "Press the emergency stop now."
                                : "Release the emergency stop, and reset what latches.";
                case HIGH_LEVEL ->
                        active
                                ? "Lift the catch tank's float now."
                                : "Let the catch tank's float down again, and reset what latches.";
                case SPILL -> active ? "Wet the spill sensor now." : "Dry the spill sensor again.";
                case SUPPLY_LOST ->
                        active
                                ? "Switch the bay's own supply off now, as the shop's rules say."
                                : "Switch the bay's own supply on again.";
                case ATTENDANT ->
                        active
                                ? "Press the attendant's button now."
                                : "Let the attendant's button go again.";
                case DIVERTER_TRIGGER, DIVERTER_AT_TANK, DIVERTER_AT_BYPASS ->
                        throw new IllegalStateException("no hand belongs at the diverter");
            };
        }
    }

    /** To watch the drain, which was opened and shut; answered as {@link Question#SEEN_MOVING}. */
    record WatchDrain() implements CheckTask {
        @Override
        public String words() {
            return "The drain opens and shuts again now. "
                    + Question.SEEN_MOVING.words()
                    + " If it does not move, wait.";
        }
    }
}
