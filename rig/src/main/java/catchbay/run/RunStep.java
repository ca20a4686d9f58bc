package catchbay.run;

import java.util.List;

/**
 * What a step answers.
 *
 * @param state the next state; the very same object when nothing changed
 * @param commands what is to be done, in this order
 */
public record RunStep(RunState state, List<BayCommand> commands) {

    public RunStep {
        commands = List.copyOf(commands);
    }

    static RunStep to(RunState state, BayCommand... commands) {
        return new RunStep(state, List.of(commands));
    }
}
