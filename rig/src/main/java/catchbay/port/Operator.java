package catchbay.port;

import catchbay.run.CheckTask;
import catchbay.run.HuntTask;
import catchbay.run.Question;
import catchbay.run.ScaleTask;
import catchbay.run.SweepTask;

import java.util.List;

/** The person at the bay. Answers come back as inputs through {@link Source#drain}. */
public interface Operator extends Source {

    /** Puts a question; returns at once. A newer question replaces one still open. */
    void ask(Question question);

    /**
     * Asks for the scale to be loaded or unloaded; returns at once. Answered as {@link
     * Question#LOAD_SCALE}.
     */
    void ask(ScaleTask task);

    /**
     * Asks for something between two catches of a sweep; returns at once. Answered as {@link
     * Question#SWEEP_STEP}.
     */
    void ask(SweepTask task);

    /**
     * Asks for a flow to be set in a hunt for an end of a truck's range; returns at once. Answered
     * as {@link Question#HUNT_STEP}.
     */
    void ask(HuntTask task);

    /**
     * Asks for something in a checkup; returns at once. How it is answered, {@link CheckTask} says.
     */
    void ask(CheckTask task);

    /**
     * What this shop wants seen to besides what the program knows of, wherever a truck is coupled;
     * may be empty. Whoever asks for cautions to be confirmed puts it among them.
     */
    default List<String> ownChecklist() {
        return List.of();
    }
}
