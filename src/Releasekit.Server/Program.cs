using Releasekit.Server.Docs;
using Releasekit.Server.Startup;

return args is [ContractFile.Command, var file] ? await ContractFile.Write(file) : await ServiceProcess.Run(args);
