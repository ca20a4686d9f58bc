package catchbay.app;

/** Brings a command of its own to the program; found by {@link java.util.ServiceLoader}. */
public interface CommandProvider {

    /** An object of a picocli command class. */
    Object command();
}
