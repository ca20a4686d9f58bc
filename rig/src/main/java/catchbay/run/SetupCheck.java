package catchbay.run;

import java.util.List;

/** Settings checked against each other. */
final class SetupCheck {
    private SetupCheck() {}

    static List<String> problems(RunSetup setup) {
        return List.of();
    }
}
