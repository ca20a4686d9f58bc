package catchbay.architecture.planted.store;

import com.fasterxml.jackson.databind.ObjectMapper;

import java.net.Socket;
import java.sql.Connection;
import java.util.logging.Logger;

/** Planted: a library of another room, a socket and a logger, beside the database it may use. */
final class Borrowing {

    Connection allowed;

    ObjectMapper json;

    Socket socket;

    Logger logger;
}
