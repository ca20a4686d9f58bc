package catchbay.port;

import java.util.List;
import java.util.Optional;

/**
 * One section of the settings. Every getter remembers its key: keys that nobody asked for are
 * refused after opening, by file and line. A value of the wrong kind is refused the same way.
 */
public interface PortSettings {

    /** A text that must be there. */
    String text(String key);

    /** A text that may be there. */
    Optional<String> optionalText(String key);

    /** A number that may be there, between two bounds, both allowed; the key ends with its unit. */
    double number(String key, double least, double most, double otherwise);

    /** A whole number that may be there, between two bounds, both allowed. */
    long whole(String key, long least, long most, long otherwise);

    /** A yes or no that may be there. */
    boolean flag(String key, boolean otherwise);

    /** A list of texts that may be there; empty if not. */
    List<String> texts(String key);

    /** The refusal of a value, with file and line: what is wrong and what to do. */
    RuntimeException refused(String key, String sentence);
}
