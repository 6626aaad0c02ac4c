# Sentences of the safety rules, by the rules' `message`. English stands in the rules themselves
# (grading/rubrics/safety.ron); a test sees to it that none is missing here and none left over.

## Manos, correas, ventiladores, calor

safety-hands-in-moving-parts = Manos, cables y mangas se mantienen lejos de correas y ventiladores con el motor en marcha. Deténgalo antes; mirar y escuchar sí se puede.
safety-fan-may-start = Un electroventilador puede arrancar solo con el motor detenido. Quite el contacto, o desconecte el conector, el fusible o el relé del ventilador, antes de acercar la mano.
safety-hot-part = Esa pieza quemaba. Póngase guantes, mida antes o deje que se enfríe.

## Agua

safety-water-into-belt = El agua sobre una correa en marcha la hace patinar y salpica a la cara. Detenga el motor, rocíe y vuelva a arrancar.
safety-water-on-hot-part = El agua sobre una pieza tan caliente sale en forma de vapor y escalda. Protección ocular y guantes, o deje que se enfríe.
safety-water-into-running-alternator = Un alternador en marcha aspira el agua hacia las partes con tensión. No apunte nunca hacia él mientras gira.
safety-water-with-engine-running = Con el motor en marcha basta una niebla fina, y nunca sobre el encendido: decenas de miles de voltios encuentran la mano mojada.

## Arranque y gases

safety-start-not-secured = Antes de que gire el motor de arranque: posición P o punto muerto, y freno de estacionamiento puesto.
safety-starter-bridged-unsecured = Alimentar a mano el motor de arranque se salta los contactos de la palanca y del pedal: con una marcha puesta, el auto pasa por encima de quien esté delante. Posición P o punto muerto, freno de estacionamiento puesto y nadie cerca, o no se hace.
safety-no-exhaust-extraction = Un motor en marcha en un local cerrado despide monóxido de carbono. Coloque la manguera de extracción antes de arrancarlo.

## Refrigerante

safety-port-without-eye-protection = Una toma de servicio puede escupir refrigerante líquido, que congela el ojo. Protección ocular y guantes antes de quitar el tapón.
safety-hose-without-eye-protection = Al conectar o quitar la manguera del manómetro escapa algo de refrigerante. Protección ocular y guantes.
safety-hose-with-engine-running = El manómetro se conecta con el motor detenido y la válvula cerrada: una manguera que se suelta acaba en la correa o en la toma que no es.
safety-cap-left-off = Lo que cierra de verdad es el tapón de servicio; la válvula de debajo solo ayuda. Vuelva a ponerlo.
safety-recharge-licensed-only = Recuperar y cargar refrigerante corresponde a personas habilitadas por la ley local, con búsqueda de fugas y equipo de recuperación. Nada se suelta al aire.
safety-loop-may-open = No todos los sensores de presión del refrigerante llevan válvula propia. Si no la lleva, una persona habilitada tiene que recuperar la carga antes de desenroscar el sensor.

## Puentes y cortocircuitos

safety-plain-jumper = Un puente sin fusible quema el mazo antes de que ceda otra cosa. Use el que lleva fusible.
safety-plain-jumper-without-any-fuse = Un puente sin fusible tomado directamente de la batería no tiene nada que lo limite: un resbalón suelda y quema.
safety-supply-shorted = Eso unió la alimentación con masa. Entre eso y un incendio solo había un fusible.
safety-supply-shorted-bare = Un cable sin protección entre los bornes de la batería: cientos de amperios, quemaduras y una batería que puede reventar.
safety-supply-into-output = Alimentación plena en un cable que un módulo de control lleva a masa: cuando el módulo conmuta, su etapa de salida recibe toda la corriente. Use ahí una lámpara de prueba; un cuarto de amperio enseña lo mismo.
safety-supply-behind-output = Eso alimenta un módulo de control por su propia salida. Desconecte antes el conector del módulo, o use una lámpara de prueba.
safety-output-shorted = Ese cable lo alimenta la etapa de salida de un módulo de control; un puente de ahí a masa es un cortocircuito en cuanto la salida conmuta.
safety-supply-into-sensor-line = La tensión de batería en un cable de cinco voltios, de señal o de masa de sensores destruye entradas del módulo.
safety-filament-light-on-sensor-line = Una lámpara de filamento toma un cuarto de amperio; una referencia de cinco voltios o una señal solo dan unas centésimas. Use ahí el multímetro.
safety-clutch-bridged-running = Con el embrague alimentado a mano y el motor en marcha nadie vigila la presión: vuelve poco aceite o sube demasiado la presión. Puentéelo con el motor detenido y escuche el chasquido.
safety-spark-at-battery = Una batería que se carga desprende hidrógeno. Haga y deshaga lejos de ella las conexiones de mucha corriente.

## Instrumentos

safety-ohms-on-live = Ohmios en un circuito con tensión: la cifra no significa nada y el multímetro quizá no lo perdone. Quite antes la alimentación.
safety-amps-across-source = En amperios el multímetro es un trozo de cable. Entre los bornes de una fuente la cortocircuita; se intercala en serie con el consumidor.
safety-tool-fuse-blown = Se fundió el fusible de la herramienta. Cumplió su función; averigüe de qué le estaba protegiendo.
safety-light-not-proved = Una lámpara apagada puede ser una bombilla fundida o una pinza sobre pintura. Compruébela en los dos bornes de la batería antes de dar por bueno que no luce.

## Batería y módulo

safety-battery-clamp-order = El borne de masa se quita el primero y se pone el último: así, si la llave toca la carrocería desde el borne positivo, no salta nada.
safety-unit-plug-live = El conector de un módulo de control se desconecta y se conecta con el contacto quitado.
