package catchbay.run;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * What a step of a hunt answers.
 *
 * @param state the next state
 * @param commands what is to be done, in this order
 * @param task what a person is to be asked to set, after that
 */
public record HuntStep(HuntState state, List<BayCommand> commands, Optional<HuntTask> task) {

    public HuntStep {
        commands = List.copyOf(commands);
    }

    static HuntStep to(HuntState state, BayCommand... commands) {
        return new HuntStep(state, List.of(commands), Optional.empty());
    }

    /** The same, with these commands before its own. */
    HuntStep after(List<BayCommand> before) {
        List<BayCommand> all = new ArrayList<>(before);
        all.addAll(commands);
        return new HuntStep(state, all, task);
    }
}
