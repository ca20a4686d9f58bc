package catchbay.run;

import java.util.Optional;

/**
 * One thing that a checkup of the bay looks at.
 *
 * @param name what it is, as settings and sentences call it
 * @param answer what came out
 * @param seen what was seen, with its figure; of what was not done, why
 * @param mend what to do, as a sentence; there when it failed, and only then
 */
public record CheckItem(String name, Answer answer, String seen, Optional<String> mend) {

    /** What came out. */
    public enum Answer {
        /** It is as it should be. */
        PASSED,
        /** It is not. */
        FAILED,
        /** This bay has none. */
        NOT_FITTED,
        /** Nobody knows. */
        NOT_DONE
    }

    public CheckItem {
        if ((answer == Answer.FAILED) != mend.isPresent()) {
            throw new IllegalArgumentException(
                    "what failed needs a mend, and nothing else does: " + name + ", " + answer);
        }
    }

    /** It is as it should be. */
    public static CheckItem passed(String name, String seen) {
        return new CheckItem(name, Answer.PASSED, seen, Optional.empty());
    }

    /** It is not as it should be. */
    public static CheckItem failed(String name, String seen, String mend) {
        return new CheckItem(name, Answer.FAILED, seen, Optional.of(mend));
    }

    /** This bay has none, by what its settings or its ports say. */
    public static CheckItem notFitted(String name, String why) {
        return new CheckItem(name, Answer.NOT_FITTED, why, Optional.empty());
    }

    /** Nobody knows, for this reason. */
    public static CheckItem notDone(String name, String why) {
        return new CheckItem(name, Answer.NOT_DONE, why, Optional.empty());
    }
}
